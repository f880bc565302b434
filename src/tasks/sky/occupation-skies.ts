import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { dilution } from '../../core/sky/dilution.js';
import { gpsFromUtc } from '../../core/sky/gps-clock.js';
import { directionTo } from '../../core/sky/look-angle.js';
import type { SkylinePoint } from '../../core/sky/obstruction-mask.js';
import { HEALTHY, NO_ELEMENTS } from '../../core/sky/orbit-track.js';
import type { OrbitTrack } from '../../core/sky/orbit-track.js';
import { SKY_SYSTEMS } from '../../records/sky/orbit-elements.js';
import type { OrbitElements } from '../../records/sky/orbit-elements.js';
import type { OccupationSky } from '../../records/reports/parts/occupation-sky.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import type { DoubtfulOccupation } from './doubtful-occupations.js';
import { orbitTracks } from './orbit-tracks.js';
import { isAboveMasks, siteView } from './site-view.js';

/** What the sky over occupations is reckoned from. */
export interface OccupationSkySetup {
  readonly ellipsoid: Ellipsoid;
  readonly elements: readonly OrbitElements[];
  readonly skylines: ReadonlyMap<string, readonly SkylinePoint[]>;
  readonly elevationMaskDeg: number;
}

/**
 * The sky over occupations in the middle of their time, at both ends.
 *
 * Given: occupations; elements, skylines by point and by base, the elevation below which nothing counts. Returned: those at whose time the elements of some satellite hold,
 * in order, and how many others there are.
 */
export function occupationSkies(
  occupations: readonly DoubtfulOccupation[],
  { ellipsoid, elements, skylines, elevationMaskDeg }: OccupationSkySetup,
): { readonly skies: readonly OccupationSky[]; readonly withoutElements: number } {
  const timed = occupations.flatMap((occupation) => {
    const gpsMs = gpsFromUtc(occupation.atMs);
    return gpsMs === null ? [] : [{ occupation, gpsMs }];
  });
  const tracks = orbitTracks(
    elements,
    timed.map(({ gpsMs }) => gpsMs),
  );
  const skies = timed.flatMap(({ occupation }, index): readonly OccupationSky[] => {
    if (tracks.every(({ states }) => states[index] === NO_ELEMENTS)) return [];
    const { place, base, ...said } = occupation;
    const seen = (id: string, at: GeodeticPoint): Seen =>
      // Of a place without a skyline everything above the mask counts.
      seenAt({ ...at, id, skyline: skylines.get(id) ?? [] }, { tracks, index, elevationMaskDeg, ellipsoid });
    const atPoint = seen(said.pointId, place);
    const atBase = base === null ? null : seen(said.baseId ?? '', base); // A base has an id.
    return [
      {
        ...said,
        satellites: atBase === null ? atPoint.names.size : shared(atPoint.names, atBase.names),
        satellitesAtPoint: atPoint.names.size,
        satellitesAtBase: atBase?.names.size ?? null,
        pdopAtPoint: atPoint.pdop,
        pdopAtBase: atBase?.pdop ?? null,
      },
    ];
  });
  return { skies, withoutElements: occupations.length - skies.length };
}

interface Seen {
  readonly names: ReadonlySet<string>;
  readonly pdop: number | null;
}

interface Instant {
  readonly tracks: readonly OrbitTrack[];
  readonly index: number;
  readonly elevationMaskDeg: number;
  readonly ellipsoid: Ellipsoid;
}

function seenAt(site: Parameters<typeof siteView>[0], { tracks, index, elevationMaskDeg, ellipsoid }: Instant): Seen {
  const view = siteView(site, elevationMaskDeg, ellipsoid);
  const units = new Float64Array(3 * tracks.length);
  const systems: number[] = [];
  const names = new Set<string>();
  for (const { satellite, system, places, states } of tracks) {
    if (states[index] !== HEALTHY) continue;
    const to = 3 * systems.length;
    directionTo(view.view, places, 3 * index, units, to);
    if (!isAboveMasks(view, units, to)) continue;
    systems.push(SKY_SYSTEMS.indexOf(system));
    names.add(satellite);
  }
  return { names, pdop: dilution(units, systems, systems.length, SKY_SYSTEMS.length)?.pdop ?? null };
}

function shared(one: ReadonlySet<string>, other: ReadonlySet<string>): number {
  return [...one].filter((name) => other.has(name)).length;
}
