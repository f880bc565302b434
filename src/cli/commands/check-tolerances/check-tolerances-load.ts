import { createGeodesic } from '../../../core/ellipsoid/geodesic.js';
import { GRS80 } from '../../../core/ellipsoid/ellipsoid.js';
import { buildGridSystem } from '../../../core/grid/systems/build-grid-system.js';
import { definitionFromProjString } from '../../../core/projection/definition/definition-from-proj-string.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { createPrecisionModel } from '../../../core/planning/precision-model.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import type { OtherZone } from '../../../core/quality/cause/cause-day.js';
import type { AxisNames } from '../../../io/tables/points/point-row-columns.js';
import { metresPerUnitOf } from '../../../io/tables/points/point-row-columns.js';
import type { CheckAxes, CheckSetup } from '../../../tasks/check/judge/check-tolerances-setup.js';
import type { RunLog } from '../../shell/run-log.js';
import { resolveSession } from '../../inputs/session-settings.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import type { Workbench } from '../../shell/workbench.js';
import { loadReductionSetup } from '../../../files/reduction/load-reduction-setup.js';

/** A setup whose axes are not settled before the points file was opened, and whose rules are added after. */
export type LoadedCheck = Omit<CheckSetup, 'axes' | 'controlRules' | 'repeatRules' | 'designRules' | 'day'>;

/** Loads session, system, geoid and bases; without a system, what comparisons without one need. */
export async function loadCheck(
  bench: Workbench,
  log: RunLog,
): Promise<{ readonly setup: LoadedCheck; readonly resolved: ResolvedSession }> {
  const resolved = bench.take(await resolveSession(bench.invocation, bench.context));
  log.session(resolved);
  const { session } = resolved;
  if (session.system === null || session.system.grid === '') {
    return {
      resolved,
      setup: {
        grid: null,
        ellipsoid: GRS80,
        geodesic: createGeodesic(GRS80),
        geoid: null,
        geoidSigmaM: null,
        epochYear: null,
        bases: [],
        precision: createPrecisionModel(session.precision),
        phaseCentreOffsetsM: [],
        isTiltMeasured: session.rover.tiltAzimuth !== null,
        tilts: new Map(),
        largestLeanDeg: session.acceptance.maxTiltDeg,
        otherZones: [],
      },
    };
  }
  const loaded = await loadReductionSetup(resolved, []);
  // What a reduction warns of (no base, no sigma) is no fault of a check that does without.
  const reduction = bench.take(
    loaded.ok && session.bases.length === 0
      ? { ...loaded, problems: loaded.problems.filter(({ code }) => code !== 'config-unstated') }
      : loaded,
  );
  log.models(reduction);
  return {
    resolved,
    setup: {
      grid: reduction.grid,
      ellipsoid: reduction.ellipsoid,
      geodesic: reduction.geodesic,
      geoid: reduction.geoid,
      geoidSigmaM: reduction.geoidSigmaM,
      epochYear: session.system.epochYear,
      bases: reduction.bases,
      precision: reduction.precision,
      phaseCentreOffsetsM: [
        // A rover without an offset of its own was logged at its reference point.
        session.rover.phaseCentreOffsetM ?? 0,
        ...session.bases.map((base) => base.phaseCentreOffsetM),
      ],
      isTiltMeasured: session.rover.tiltAzimuth !== null,
      tilts: new Map(),
      largestLeanDeg: session.acceptance.maxTiltDeg,
      otherZones: otherZones(reduction.grid),
    },
  };
}

/** The axes of the system, or those the file names; east and north where it has no grid. */
export function checkAxes(grid: GridSystem | null, names: AxisNames | null): CheckAxes {
  if (grid !== null)
    return {
      first: grid.axes[0].name,
      second: grid.axes[1].name,
      sign: grid.southOrientated ? -1 : 1,
      metresPerUnit: grid.axes[0].metresPerUnit,
    };
  if (names === null) return { first: 'east', second: 'north', sign: 1, metresPerUnit: 1 };
  const word = (name: string): string => name.slice(0, name.indexOf('_'));
  return {
    first: word(names[0]),
    second: word(names[1]),
    sign: names[0].startsWith('westing') ? -1 : 1,
    metresPerUnit: metresPerUnitOf(names[0]) ?? 1,
  };
}

const MERIDIAN_STEPS_DEG: readonly number[] = [-6, -4, -3, -2, -1, 1, 2, 3, 4, 6];

/** The same projection about neighbouring central meridians, and neighbouring zones where it is numbered. */
function otherZones(grid: GridSystem): readonly OtherZone[] {
  const text = grid.definition.proj4;
  if (text === null) return [];
  const numberAfter = (name: string): number | null =>
    parseDecimal(new RegExp(`\\+${name}=(-?[\\d.]+)`, 'u').exec(text)?.[1] ?? '');
  const zone = numberAfter('zone');
  const meridian = numberAfter('lon_0');
  const texts: (readonly [string, string])[] = [];
  if (zone !== null) {
    for (const step of [-2, -1, 1, 2])
      texts.push([`zone ${String(zone + step)}`, text.replace(/\+zone=\d+/u, `+zone=${String(zone + step)}`)]);
  } else if (meridian !== null) {
    for (const step of MERIDIAN_STEPS_DEG)
      texts.push([
        `central meridian ${String(meridian + step)}`,
        text.replace(/\+lon_0=-?[\d.]+/u, `+lon_0=${String(meridian + step)}`),
      ]);
  }
  return texts.flatMap(([name, definition]): readonly OtherZone[] => {
    const parsed = definitionFromProjString(definition);
    const built = parsed.ok ? buildGridSystem(parsed.value, null) : parsed;
    return built.ok ? [{ name, forward: built.value.forward, inverse: built.value.inverse }] : [];
  });
}
