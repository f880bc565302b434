import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { Problem } from '../../records/problem.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { GridLevel, GridValues } from './geoid-grid.js';

/**
 * The largest number of nodes a grid may have. A grid of the whole Earth at one minute has 233
 * million; more than this is a damaged header, or needs a cut of the area.
 */
export const MAXIMUM_GRID_NODES = 400_000_000;

/**
 * The largest size a geoid height may have, metres. The Earth's lie between about −107 and +86
 * (from memory); more is a unit, or a no-data value, that the file does not state.
 */
export const MAXIMUM_GEOID_HEIGHT_M = 200;

/** How far the values of a grid may lie from zero, in their unit: more is a unit, or a no-data value, that the file does not state. */
export interface ValueBound {
  readonly most: number;
  /** For people: `m`. */
  readonly unit: string;
  /** What the values are, in the plural. */
  readonly words: string;
}

const GEOID_BOUND: ValueBound = { most: MAXIMUM_GEOID_HEIGHT_M, unit: 'm', words: 'geoid heights' };

/** How far, in cells, the width of a grid may be from a full turn and still be one. */
const TURN_TOLERANCE_CELLS = 0.01;
const POLE_TOLERANCE_DEG = 1e-6;

/** What a reader knows of a grid before its values are looked at. */
export type GridShape = Omit<GridLevel, 'values' | 'unitM' | 'wrapsLongitude' | 'turnColumns'>;

/**
 * Whether a grid of this shape can be one of the Earth, before memory is taken for it.
 *
 * Given: the shape as the header states it.
 * Returned: null, or the problem: `grid-unreadable` for a shape that is impossible,
 * `grid-unsupported` for one that is too large or too small.
 */
export function gridShapeProblem(shape: GridShape): Problem | null {
  const { southDeg, westDeg, latitudeStepDeg, longitudeStepDeg, rows, columns } = shape;
  if (!Number.isInteger(rows) || !Number.isInteger(columns) || rows < 1 || columns < 1) {
    return bad('grid-unreadable', `the header gives ${rows} rows and ${columns} columns`);
  }
  if (rows < 2 || columns < 2) {
    return bad(
      'grid-unsupported',
      `${rows} rows and ${columns} columns are too few to interpolate, at least 2 of each are needed`,
    );
  }
  if (rows * columns > MAXIMUM_GRID_NODES) {
    return bad('grid-unsupported', `${rows} rows of ${columns} columns are more than ${MAXIMUM_GRID_NODES} nodes`);
  }
  if (!(latitudeStepDeg > 0) || !(longitudeStepDeg > 0) || !Number.isFinite(latitudeStepDeg + longitudeStepDeg)) {
    return bad('grid-unreadable', `the steps of ${latitudeStepDeg} and ${longitudeStepDeg} degrees are not positive`);
  }
  const northDeg = southDeg + (rows - 1) * latitudeStepDeg;
  if (!(southDeg >= -90 - POLE_TOLERANCE_DEG) || !(northDeg <= 90 + POLE_TOLERANCE_DEG)) {
    return bad('grid-unreadable', `latitudes from ${southDeg} to ${northDeg} degrees are not within -90 to 90`);
  }
  const spanDeg = (columns - 1) * longitudeStepDeg;
  if (!(Math.abs(westDeg) <= 720) || !(spanDeg <= 360 + TURN_TOLERANCE_CELLS * longitudeStepDeg)) {
    return bad('grid-unreadable', `longitudes from ${westDeg} over ${spanDeg} degrees are not within one turn`);
  }
  return null;
}

/**
 * A checked grid level from its shape and values.
 *
 * Given: the shape; the values, row 0 southernmost, west to east, NaN where there is no data; metres
 * in one unit of them; how far they may lie from zero, as geoid heights unless stated. The array is kept, not copied.
 * Returned: the level, with the longitude wrap worked out: a grid wraps when its columns times its
 * step make a full turn, or when its last column stands a full turn after its first, to a hundredth
 * of a cell; its step is then the exact part of 360°, whatever decimals the file cut off.
 * Problems: those of `gridShapeProblem`; `grid-unreadable` when the number of values differs from
 * rows × columns, a value is infinite or beyond the bound, or no node has a value.
 */
export function gridLevelFrom(
  shape: GridShape,
  values: GridValues,
  unitM = 1,
  bound: ValueBound = GEOID_BOUND,
): Outcome<GridLevel> {
  const wrong = gridShapeProblem(shape);
  if (wrong !== null) return failure(wrong);
  if (values.length !== shape.rows * shape.columns) {
    return failure(
      bad('grid-unreadable', `${values.length} values do not fill ${shape.rows} rows of ${shape.columns}`),
    );
  }
  const worst = firstImpossible(values, unitM, bound);
  if (worst === 'empty') return failure(bad('grid-unreadable', 'no node of the grid has a value'));
  if (worst !== null) {
    return failure({
      ...bad(
        'grid-unreadable',
        `a node holds ${worst} ${bound.unit}, ${bound.words} lie within ${bound.most} ${bound.unit} of zero`,
      ),
      received: String(worst),
      hint: 'a no-data value, or a unit, that the file does not state?',
    });
  }
  const turnColumns = columnsInTurn(shape);
  return success({
    southDeg: shape.southDeg,
    westDeg: shape.westDeg,
    latitudeStepDeg: shape.latitudeStepDeg,
    longitudeStepDeg: turnColumns > 0 ? 360 / turnColumns : shape.longitudeStepDeg,
    rows: shape.rows,
    columns: shape.columns,
    values,
    unitM,
    wrapsLongitude: turnColumns > 0,
    turnColumns,
  });
}

function columnsInTurn(shape: GridShape): number {
  const turn = 360 / shape.longitudeStepDeg;
  if (Math.abs(shape.columns - turn) <= TURN_TOLERANCE_CELLS) return shape.columns;
  if (Math.abs(shape.columns - 1 - turn) <= TURN_TOLERANCE_CELLS) return shape.columns - 1;
  return 0;
}

function firstImpossible(values: GridValues, unitM: number, { most }: ValueBound): number | 'empty' | null {
  let seen = false;
  for (let node = 0; node < values.length; node += 1) {
    const value = (values[node] as number) * unitM;
    if (Number.isNaN(value)) continue;
    if (!(Math.abs(value) <= most)) return value;
    seen = true;
  }
  return seen ? null : 'empty';
}

function bad(code: ProblemCode, message: string): Problem {
  return { code, severity: 'error', message };
}
