import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import type { AreaOfUse, SystemDefinition } from '../../core/projection/definition/system-definition.js';
import { loadSystemDefinition } from '../../io/host/system-registry.js';
import type { WorkBox } from '../../tasks/draft/draft-line.js';
import type { CandidateSystem, SystemCandidates } from '../../tasks/draft/draft-system.js';
import { findSystems } from '../systems/find-systems.js';
import { present } from '../../records/present.js';

/** Candidates that a person reads without having asked for more. */
const SHOWN = 12;
/** Registry codes of strips of six degrees on WGS 84, from 1 at 180° to 174° west: north, south. EPSG registry. */
const STRIPS = { north: 32_600, south: 32_700 } as const;

/** Published projected systems whose area of use holds the corners of the work, as far as the commands take them. */
export function systemCandidates(box: WorkBox): SystemCandidates {
  const { southDeg, northDeg, westDeg, eastDeg } = box;
  const place = { latitudeDeg: (southDeg + northDeg) / 2, longitudeDeg: (westDeg + eastDeg) / 2 };
  const corners = [southDeg, northDeg].flatMap((latitudeDeg) =>
    [westDeg, eastDeg].map((longitudeDeg) => ({ latitudeDeg, longitudeDeg })),
  );
  const systems = findSystems({ words: [], place: wrapped(place), kind: 'projected' })
    .filter(({ isSupported }) => isSupported)
    .map(({ definition }) => definition)
    .filter(({ areaOfUse }) => isRegional(areaOfUse))
    .filter(({ areaOfUse }) =>
      corners.every((corner) => areaOfUse !== null && isInsideArea(areaOfUse, corner.latitudeDeg, corner.longitudeDeg)),
    );
  return {
    systems: systems.slice(0, SHOWN).map(candidate),
    more: Math.max(0, systems.length - SHOWN),
    strip: strip(wrapped(place)),
  };
}

/** Degrees of longitude from which on a system is for maps of continents, not for surveys. */
const WIDEST_DEG = 60;

function isRegional(area: AreaOfUse | null): boolean {
  return area !== null && (area.eastDeg - area.westDeg + 360) % 360 <= WIDEST_DEG && area.eastDeg - area.westDeg < 360;
}

function wrapped(place: { readonly latitudeDeg: number; readonly longitudeDeg: number }): typeof place {
  return place.longitudeDeg > 180 ? { ...place, longitudeDeg: place.longitudeDeg - 360 } : place;
}

/** The strip that holds a place by its longitude alone; a country may have moved its edges. */
function strip({
  latitudeDeg,
  longitudeDeg,
}: {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}): CandidateSystem | null {
  const number = Math.min(60, Math.floor((longitudeDeg + 180) / 6) + 1);
  const found = loadSystemDefinition(`EPSG:${String((latitudeDeg < 0 ? STRIPS.south : STRIPS.north) + number)}`);
  return found.ok ? candidate(found.value) : null;
}

function candidate({ code, name, areaOfUse }: SystemDefinition): CandidateSystem {
  return {
    code: present(code, 'the code of a system of the registry'),
    name,
    area: firstSentence(areaOfUse?.description ?? 'area of use not stated'),
  };
}

/** Areas of strips go on with every country in them. */
function firstSentence(text: string): string {
  const at = text.indexOf('. ');
  return (at < 0 ? text : text.slice(0, at)).replace(/\.$/u, '');
}
