import type { GeoidInterpolation } from '../../records/session.js';
import type { GridLevel } from './geoid-grid.js';

/** How many nodes an interpolation takes each way. */
export const STENCIL_WIDTHS: Readonly<Record<GeoidInterpolation, number>> = {
  bilinear: 2,
  biquadratic: 3,
  bicubic: 4,
};

/**
 * A fractional row or column nearer than this to a whole one is taken as that node, in cells. It is
 * far above the rounding of the division (4e-13 for 1440 columns) and moves a height by less than
 * 1e-8 m where neighbours differ by 10 m.
 */
const NODE_TOLERANCE_CELLS = 1e-9;

/** The nearest whole number when nearer than the node tolerance; the same number otherwise. */
export function snapToNode(index: number): number {
  const nearest = Math.round(index);
  return Math.abs(index - nearest) < NODE_TOLERANCE_CELLS ? nearest : index;
}

/**
 * The sum of a 2×2 stencil, or NaN where a node with a weight has no data.
 *
 * Given: fractional row and column inside the level, snapped (`snapToNode`).
 * Notes: 1. Exact for a polynomial of degree 1 in each direction, and continuous. 2. At a node only
 * the node counts; on a line between nodes only the two on it.
 */
export function bilinearAt(level: GridLevel, row: number, column: number): number {
  const row0 = firstRow(level, row, 2);
  const column0 = firstColumn(level, column, 2);
  const q = row - row0;
  const p = column - column0;
  const south = row0 * level.columns;
  const north = south + level.columns;
  const west = wrappedColumn(level, column0);
  const east = wrappedColumn(level, column0 + 1);
  const values = level.values;
  return (
    weighted((1 - p) * (1 - q), values[south + west]) +
    weighted(p * (1 - q), values[south + east]) +
    weighted((1 - p) * q, values[north + west]) +
    weighted(p * q, values[north + east])
  );
}

/**
 * The sum of a 3×3 Lagrange stencil centred on the nearest node, or NaN where a node with a weight
 * has no data.
 *
 * Notes: 1. Exact for degree 2 in each direction. 2. At the edges the stencil is shifted inwards.
 * 3. Not continuous: half-way between nodes the centre moves on, and the height with it, by about
 * an eighth of the third difference of the nodes.
 */
export function biquadraticAt(level: GridLevel, row: number, column: number): number {
  const row0 = firstRow(level, row, 3);
  const column0 = firstColumn(level, column, 3);
  const v = row - row0;
  const a = quadraticRow(level, row0, column0, column, (v - 1) * (v - 2) * 0.5);
  const b = quadraticRow(level, row0 + 1, column0, column, v * (2 - v));
  const c = quadraticRow(level, row0 + 2, column0, column, v * (v - 1) * 0.5);
  return a + b + c;
}

/**
 * The sum of a 4×4 Lagrange stencil around the cell, or NaN where a node with a weight has no data.
 *
 * Notes: 1. Exact for degree 3 in each direction. 2. At the edges the stencil is shifted inwards.
 * 3. Continuous, in value but not in slope: on a line of nodes every stencil beside it gives the
 * same height.
 */
export function bicubicAt(level: GridLevel, row: number, column: number): number {
  const row0 = firstRow(level, row, 4);
  const column0 = firstColumn(level, column, 4);
  const v = row - row0;
  const a = cubicRow(level, row0, column0, column, ((v - 1) * (v - 2) * (3 - v)) / 6);
  const b = cubicRow(level, row0 + 1, column0, column, v * (v - 2) * (v - 3) * 0.5);
  const c = cubicRow(level, row0 + 2, column0, column, v * (v - 1) * (3 - v) * 0.5);
  const d = cubicRow(level, row0 + 3, column0, column, (v * (v - 1) * (v - 2)) / 6);
  return a + b + c + d;
}

function quadraticRow(level: GridLevel, row: number, column0: number, column: number, weight: number): number {
  if (weight === 0) return 0;
  const u = column - column0;
  const start = row * level.columns;
  const values = level.values;
  const sum =
    weighted((u - 1) * (u - 2) * 0.5, values[start + wrappedColumn(level, column0)]) +
    weighted(u * (2 - u), values[start + wrappedColumn(level, column0 + 1)]) +
    weighted(u * (u - 1) * 0.5, values[start + wrappedColumn(level, column0 + 2)]);
  return weight * sum;
}

function cubicRow(level: GridLevel, row: number, column0: number, column: number, weight: number): number {
  if (weight === 0) return 0;
  const u = column - column0;
  const start = row * level.columns;
  const values = level.values;
  const sum =
    weighted(((u - 1) * (u - 2) * (3 - u)) / 6, values[start + wrappedColumn(level, column0)]) +
    weighted(u * (u - 2) * (u - 3) * 0.5, values[start + wrappedColumn(level, column0 + 1)]) +
    weighted(u * (u - 1) * (3 - u) * 0.5, values[start + wrappedColumn(level, column0 + 2)]) +
    weighted((u * (u - 1) * (u - 2)) / 6, values[start + wrappedColumn(level, column0 + 3)]);
  return weight * sum;
}

/** Where a stencil of 2, 3 or 4 nodes begins: about the cell, or with three about the nearest node. */
function firstNode(index: number, width: number): number {
  return width === 3 ? Math.round(index) - 1 : Math.floor(index) - (width === 4 ? 1 : 0);
}

/** First row of a stencil around a fractional row, shifted inside the level. */
export function firstRow(level: GridLevel, row: number, width: number): number {
  return Math.min(Math.max(firstNode(row, width), 0), level.rows - width);
}

/** First column likewise: anywhere where the level wraps, shifted inside where it does not. */
export function firstColumn(level: GridLevel, column: number, width: number): number {
  const wanted = firstNode(column, width);
  if (level.wrapsLongitude) return wanted;
  return Math.min(Math.max(wanted, 0), level.columns - width);
}

/** A column of a stencil as the level counts it. */
export function wrappedColumn(level: GridLevel, column: number): number {
  const turn = level.turnColumns;
  if (turn === 0) return column;
  if (column < 0) return column + turn;
  return column >= turn ? column - turn : column;
}

function weighted(weight: number, value: number | undefined): number {
  return weight === 0 ? 0 : weight * (value as number);
}
