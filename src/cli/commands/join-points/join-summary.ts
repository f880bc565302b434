import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import type { MethodRef } from '../../../records/runs/provenance.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import { withoutPlaceLine } from '../../outputs/without-place-line.js';
import type { JoinMode } from './join-mode.js';
import type { JoinResults } from './join-results.js';

/** How each kind of result is made. */
const JOIN_METHODS: Readonly<Record<JoinMode, string>> = {
  lines:
    'join between points: geodesic, straight grid line, line scale factor by Simpson, elevation factor with the radius in the azimuth',
  polar: 'point from a direction and a distance',
  area: 'area of a closed figure: on the grid, of the geodesic polygon, at the mean height',
};

/** How the results are made, for the record. */
export function joinMethod(mode: JoinMode): MethodRef {
  const source = { key: 'GDA2020-TM', locator: 'docs/methods/join.md' };
  return { id: `join-${mode}`, name: JOIN_METHODS[mode], source };
}

/** What is counted of a run. */
export interface JoinCounts {
  /** Lines, points or areas. */
  readonly made: number;
  /** Lines that have no ground or slope distance. */
  readonly withoutHeight: number;
  /** Rejected points, which have no place. */
  readonly withoutPlace: number;
  /** Rows left out because of errors. */
  readonly rejected: number;
}

/** The counts of a run whose lines are held. */
export function joinCounts({ table, joins }: JoinResults, loaded: LoadedStations): JoinCounts {
  return {
    made: table.rows.length,
    withoutHeight: joins.filter((join) => join.meanHeightM === null).length,
    withoutPlace: loaded.withoutPlace,
    rejected: loaded.rejected,
  };
}

/** What is said at the end of a run. */
export function joinSummary(
  mode: JoinMode,
  { made, withoutHeight, withoutPlace, rejected }: JoinCounts,
  grid: GridSystem,
): readonly string[] {
  const word = { lines: 'line', polar: 'point', area: 'area' }[mode];
  const lines = [`${String(made)} ${word}${made === 1 ? '' : 's'} computed in ${grid.name}`];
  if (withoutHeight > 0)
    lines.push(
      `${String(withoutHeight)} ${withoutHeight === 1 ? 'line has' : 'lines have'} no ground or slope distance: an ellipsoidal height is not known (give it, or orthometric heights and --geoid)`,
    );
  if (withoutPlace > 0) lines.push(withoutPlaceLine(withoutPlace));
  if (rejected > 0) lines.push(`${String(rejected)} rows with errors were left out on request`);
  return lines;
}
