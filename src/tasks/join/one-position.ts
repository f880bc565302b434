import { placesApart, unsaidInPlanM } from '../../core/ellipsoid/one-place.js';
import { gridProblem } from '../../core/grid/systems/grid-problem.js';
import type { GridPair, GridSystem } from '../../core/grid/systems/grid-system.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';

/** Which of two positions of a row counts; null: both, and they must agree. */
export type PositionChoice = 'grid' | 'geographic' | null;

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
 * Whether the grid pair and the latitude and longitude of a row are one place, by `placesApart`: for every
 * command that reads both.
 *
 * Given: the grid of the pair, whose base the degrees are taken in; the row; how to name the grid in a
 * hint. Returned: null where they are one place; position-mismatch with the distance; the problem of a
 * place that the grid cannot hold.
 */
export function positionsProblem(grid: GridSystem, row: TwoPositions): Problem | null {
  const projected: GridPair = { first: NaN, second: NaN };
  const status = grid.forward(row.latitudeDeg, row.longitudeDeg, projected);
  if (status !== 'ok') return gridProblem(status, row, grid);
  const { metresPerUnit } = grid.axes[0];
  const apartM = Math.hypot(projected.first - row.gridFirst, projected.second - row.gridSecond) * metresPerUnit;
  const words = placesApart({
    planM: apartM,
    planUnsaidM: unsaidInPlanM(row.gridRounding * metresPerUnit, row.angleRoundingDeg),
    upM: 0,
    upUnsaidM: 0,
  });
  if (words === null) return null;
  return errorProblem('position-mismatch', {
    message: `the grid pair of ${row.pointId} in ${grid.name} and its latitude and longitude, taken in ${grid.base.name}, are ${words}`,
    received: `${String(row.gridFirst)}, ${String(row.gridSecond)}; ${String(row.latitudeDeg)}, ${String(row.longitudeDeg)}`,
    hint: 'they are of two systems, or one is wrong: check both; --position-from grid or --position-from geographic says which of the two counts',
  });
}
