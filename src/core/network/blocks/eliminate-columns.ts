import type { BlockFactor } from './block-factor.js';
import { entryOf } from './elimination-order.js';
import { createSmallInverter } from './small-inverse.js';
import { rowsTimes3, subtractByTransposed3 } from './three-by-three.js';

/** A pivot that keeps less than this of its diagonal term says that nothing determines the unknown. */
const LEAST_PIVOT = 1e-12;

/**
 * Turns the columns of some places from those of N into those of D⁻¹ and L, and takes them off all later ones.
 *
 * Given: the factor; the places, rising; of each unknown its own term of N, those of a place `mostWide` after
 * those of the one before. Returned: null, or the place that is not determined.
 */
export function eliminate(factor: BlockFactor, places: Int32Array, scales: Float64Array): number | null {
  const { order, widths, diagonalStarts, lowerStarts, panels, mostWide, mostRows, threes } = factor;
  const { belowStarts } = order;
  const { diagonal, lower } = panels;
  const { invert } = createSmallInverter(mostWide);
  const full = new Float64Array(mostRows * mostWide);
  for (let at = 0; at < places.length; at += 1) {
    const k = places[at]!;
    const width = widths[k]!;
    const own = diagonalStarts[k]!;
    if (!invert(diagonal, own, width, scales, k * mostWide, LEAST_PIVOT)) return k;
    const from = lowerStarts[belowStarts[k]!]!;
    const length = lowerStarts[belowStarts[k + 1]!]! - from;
    for (let n = 0; n < length; n += 1) full[n] = lower[from + n]!;
    if (threes[k] === 1) {
      subtractColumns3(factor, k, full);
      continue;
    }
    for (let row = 0; row < length; row += width)
      for (let c = 0; c < width; c += 1) {
        let sum = 0;
        for (let s = 0; s < width; s += 1) sum += full[row + s]! * diagonal[own + s * width + c]!;
        lower[from + row + c] = sum;
      }
    for (let j = belowStarts[k]!; j < belowStarts[k + 1]!; j += 1) subtractColumn(factor, k, j, full);
  }
  return null;
}

/** Takes the product with one block of column k off the column of that block; `full` is column k of D Lᵀ, row by row. */
function subtractColumn(factor: BlockFactor, k: number, j: number, full: Float64Array): void {
  const { order, widths, diagonalStarts, lowerStarts, panels } = factor;
  const { belowStarts, below } = order;
  const { diagonal, lower } = panels;
  const width = widths[k]!;
  const column = below[j]!;
  const columnWidth = widths[column]!;
  const from = lowerStarts[j]! - lowerStarts[belowStarts[k]!]!;
  let entry = belowStarts[column]!;
  for (let i = j; i < belowStarts[k + 1]!; i += 1) {
    const isDiagonal = i === j;
    if (!isDiagonal) entry = entryOf(order, column, below[i]!, entry);
    const target = isDiagonal ? diagonal : lower;
    const start = isDiagonal ? diagonalStarts[column]! : lowerStarts[entry]!;
    const first = lowerStarts[i]!;
    const rows = widths[below[i]!]!;
    for (let a = 0; a < rows; a += 1)
      for (let b = 0; b < columnWidth; b += 1) {
        let sum = 0;
        for (let s = 0; s < width; s += 1) sum += lower[first + a * width + s]! * full[from + b * width + s]!;
        target[start + a * columnWidth + b]! -= sum;
      }
  }
}

/** L of column k, and its products off all later columns, where all blocks are three by three. */
function subtractColumns3(
  { order, diagonalStarts, lowerStarts, panels }: BlockFactor,
  k: number,
  full: Float64Array,
): void {
  const { belowStarts, below } = order;
  const { diagonal, lower } = panels;
  const begin = belowStarts[k]!;
  const end = belowStarts[k + 1]!;
  const base = lowerStarts[begin]!;
  rowsTimes3(full, diagonal, diagonalStarts[k]!, lower, base, 3 * (end - begin));
  for (let j = begin; j < end; j += 1) {
    const column = below[j]!;
    const from = lowerStarts[j]! - base;
    subtractByTransposed3(diagonal, diagonalStarts[column]!, lower, lowerStarts[j]!, full, from);
    let entry = belowStarts[column]!;
    for (let i = j + 1; i < end; i += 1) {
      entry = entryOf(order, column, below[i]!, entry);
      subtractByTransposed3(lower, lowerStarts[entry]!, lower, lowerStarts[i]!, full, from);
    }
  }
}
