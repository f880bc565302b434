import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GridPair, GridSystem } from '../../core/grid/systems/grid-system.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** Which of two positions of a row counts; null: both, and they must agree. */
export type PositionChoice = 'grid' | 'geographic' | null;

/**
 * Grid pair and latitude, longitude of one row may differ by this much, metres, beside what their
 * last digits leave unsaid: programs differ by less, datums and slips by more.
 */
export const POSITIONS_AGREE_M = 0.005;
/** Metres in a degree of latitude, near enough for a rounding. */
const DEGREE_M = 111_320;

/** The two positions of a row, with half a unit of the last digit of each as written. */
export interface TwoPositions {
  readonly pointId: string;
  readonly gridFirst: number;
  readonly gridSecond: number;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** In the unit of the grid. */
  readonly gridRounding: number;
  readonly angleRoundingDeg: number;
}

/**
 * Whether the grid pair and the latitude and longitude of a row are one place. The one comparison of
 * every command that reads both.
 *
 * Given: the grid of the pair, whose base the degrees are taken in; the row; how to name the grid in a
 * hint. Returned: null where they are one place; position-mismatch with the distance; the problem of a
 * place that the grid cannot hold.
 */
export function positionsProblem(grid: GridSystem, row: TwoPositions): Problem | null {
  const projected: GridPair = { first: 0, second: 0 };
  const status = grid.forward(row.latitudeDeg, row.longitudeDeg, projected);
  if (status !== 'ok') return gridProblem(status, row, grid);
  const { metresPerUnit } = grid.axes[0];
  const apartM = Math.hypot(projected.first - row.gridFirst, projected.second - row.gridSecond) * metresPerUnit;
  const unsaidM = Math.SQRT2 * (row.gridRounding * metresPerUnit + row.angleRoundingDeg * DEGREE_M);
  if (apartM <= POSITIONS_AGREE_M + unsaidM) return null;
  return errorProblem('position-mismatch', {
    message: `the grid pair of ${row.pointId} in ${grid.name} and its latitude and longitude, taken in ${grid.base.name}, are ${formatFixed(apartM, 3)} m apart`,
    received: `${String(row.gridFirst)}, ${String(row.gridSecond)}; ${String(row.latitudeDeg)}, ${String(row.longitudeDeg)}`,
    hint: 'they are of two systems, or one is wrong: check both; --position-from grid or --position-from geographic says which of the two counts',
  });
}
