import { rowsOf, startsOf } from './block-equations.js';
import type { BlockEquations } from './block-equations.js';
import { eliminationOrder } from './elimination-order.js';
import type { EliminationOrder } from './elimination-order.js';
import { createSmallInverter } from './small-inverse.js';

/** The numbers of a sparse symmetric matrix in blocks, in the places that its factor fills. */
export interface BlockPanels {
  /** The diagonal blocks, place after place, row by row. */
  readonly diagonal: Float64Array;
  /** The blocks below the diagonal in the order of `EliminationOrder.below`, row by row. */
  readonly lower: Float64Array;
}

/** N = L D Lᵀ in blocks. */
export interface BlockFactor {
  readonly order: EliminationOrder;
  /** Where the unknowns of each block begin, as the equations have them. */
  readonly starts: Int32Array;
  /** Of each place: unknowns of the block there. */
  readonly widths: Int32Array;
  /** Where the diagonal block of each place begins. */
  readonly diagonalStarts: Int32Array;
  /** Where each block below the diagonal begins; at the end how many numbers there are. */
  readonly lowerStarts: Int32Array;
  /** Most unknowns in a block, and most rows below the diagonal in a column. */
  readonly mostWide: number;
  readonly mostRows: number;
  /** D⁻¹ as `diagonal`, L as `lower`. */
  readonly panels: BlockPanels;
}

/** The factor; or the block at which the normal equations turn out not to determine the unknowns. */
export type FactorResult =
  { readonly ok: true; readonly factor: BlockFactor } | { readonly ok: false; readonly block: number };

/** A pivot that keeps less than this of its diagonal term says that nothing determines the unknown. */
const LEAST_PIVOT = 1e-12;
/** Entries looked at one by one before the search of a long column halves it. */
const NEAR = 4;

/**
 * Forms the normal equations N = Aᵀ P A and factors them.
 *
 * Given: the equations; the order of an earlier factor of equations that meet the same blocks, null: it is found.
 * Returned: the factor, or the block that is not determined. Reference: DAVIS-2006 (from memory), in blocks.
 */
export function factorNormals(equations: BlockEquations, known: EliminationOrder | null = null): FactorResult {
  const { sizes, starts } = equations;
  const order = known ?? eliminationOrder(sizes.length, equations);
  const { blockAt, belowStarts, below } = order;
  const count = blockAt.length;
  const widths = Int32Array.from(blockAt, (block) => sizes[block]!);
  const diagonalStarts = startsOf(widths.map((width) => width * width));
  const lowerStarts = new Int32Array(below.length + 1);
  let [mostWide, mostRows] = [1, 1];
  for (let k = 0; k < count; k += 1) {
    let rows = 0;
    for (let entry = belowStarts[k]!; entry < belowStarts[k + 1]!; entry += 1) {
      const height = widths[below[entry]!]!;
      rows += height;
      lowerStarts[entry + 1] = lowerStarts[entry]! + height * widths[k]!;
    }
    mostWide = Math.max(mostWide, widths[k]!);
    mostRows = Math.max(mostRows, rows);
  }
  const panels: BlockPanels = {
    diagonal: new Float64Array(diagonalStarts[count]!),
    lower: new Float64Array(lowerStarts[below.length]!),
  };
  const factor: BlockFactor = { order, starts, widths, diagonalStarts, lowerStarts, mostWide, mostRows, panels };
  assemble(equations, factor);
  const failed = eliminate(factor);
  return failed === null ? { ok: true, factor } : { ok: false, block: blockAt[failed]! };
}

/** Where in `below` a column holds a later place, looked for from an entry on; a negative number where it does not. */
export function entryOf({ belowStarts, below }: EliminationOrder, column: number, place: number, from: number): number {
  let low = from;
  let high = belowStarts[column + 1]!;
  for (let step = 0; step < NEAR && low < high; step += 1, low += 1) {
    const own = below[low]!;
    if (own === place) return low;
    if (own > place) return -1;
  }
  const end = high;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (below[middle]! < place) low = middle + 1;
    else high = middle;
  }
  return low < end && below[low] === place ? low : -1;
}

/** Adds Aᵀ P A of every observation. */
function assemble(equations: BlockEquations, factor: BlockFactor): void {
  const { order, diagonalStarts, lowerStarts, panels } = factor;
  const { termStarts, termBlocks } = equations;
  for (let index = 0; index < equations.count; index += 1)
    for (let t = termStarts[index]!; t < termStarts[index + 1]!; t += 1) {
      const column = order.placeOf[termBlocks[t]!]!;
      for (let u = termStarts[index]!; u < termStarts[index + 1]!; u += 1) {
        const row = order.placeOf[termBlocks[u]!]!;
        if (row === column) addNormal(equations, index, u, t, panels.diagonal, diagonalStarts[column]!);
        else if (row > column)
          addNormal(
            equations,
            index,
            u,
            t,
            panels.lower,
            lowerStarts[entryOf(order, column, row, order.belowStarts[column]!)]!,
          );
      }
    }
}

/** Adds A_uᵀ P A_t of two terms of an observation. */
function addNormal(
  equations: BlockEquations,
  index: number,
  u: number,
  t: number,
  target: Float64Array,
  start: number,
): void {
  const { sizes, termBlocks, termFactors, termMatrices, matrices, weightStarts, weights } = equations;
  const m = rowsOf(equations, index);
  const weightAt = weightStarts[index]!;
  const [first, second] = [termMatrices[u]!, termMatrices[t]!];
  const factor = (first < 0 ? termFactors[u]! : 1) * (second < 0 ? termFactors[t]! : 1);
  if (first < 0 && second < 0) {
    for (let at = 0; at < m * m; at += 1) target[start + at]! += factor * weights[weightAt + at]!;
    return;
  }
  const rows = sizes[termBlocks[u]!]!;
  const columns = sizes[termBlocks[t]!]!;
  for (let a = 0; a < rows; a += 1)
    for (let c = 0; c < columns; c += 1) {
      let sum = 0;
      for (let r = first < 0 ? a : 0; r < (first < 0 ? a + 1 : m); r += 1)
        for (let s = second < 0 ? c : 0; s < (second < 0 ? c + 1 : m); s += 1)
          sum +=
            (first < 0 ? 1 : matrices[first + r * rows + a]!) *
            weights[weightAt + r * m + s]! *
            (second < 0 ? 1 : matrices[second + s * columns + c]!);
      target[start + a * columns + c]! += factor * sum;
    }
}

/** Turns the panels of N into those of D⁻¹ and L. Returned: null, or the place that is not determined. */
function eliminate(factor: BlockFactor): number | null {
  const { order, widths, diagonalStarts, lowerStarts, panels, mostWide, mostRows } = factor;
  const { belowStarts } = order;
  const { diagonal, lower } = panels;
  const scaleStarts = startsOf(widths);
  const scales = new Float64Array(scaleStarts[widths.length]!);
  for (let k = 0; k < widths.length; k += 1)
    for (let r = 0; r < widths[k]!; r += 1)
      scales[scaleStarts[k]! + r] = diagonal[diagonalStarts[k]! + r * widths[k]! + r]!;
  const { invert } = createSmallInverter(mostWide);
  const full = new Float64Array(mostRows * mostWide);
  for (let k = 0; k < widths.length; k += 1) {
    const width = widths[k]!;
    const own = diagonalStarts[k]!;
    if (!invert(diagonal, own, width, scales, scaleStarts[k]!, LEAST_PIVOT)) return k;
    const from = lowerStarts[belowStarts[k]!]!;
    const length = lowerStarts[belowStarts[k + 1]!]! - from;
    for (let at = 0; at < length; at += 1) full[at] = lower[from + at]!;
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
