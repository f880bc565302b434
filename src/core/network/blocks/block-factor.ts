import type { BlockEquations } from './block-equations.js';
import { eliminationOrder } from './elimination-order.js';
import type { EliminationOrder } from './elimination-order.js';
import { assemble } from './assemble-normals.js';
import { eliminate } from './eliminate-columns.js';

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
  /** 1: the block of the place, and all that stand below it, are three by three. */
  readonly threes: Uint8Array;
  /** D⁻¹ as `diagonal`, L as `lower`. */
  readonly panels: BlockPanels;
  /** What the factor is formed of anew when its last equations are exchanged; null: none were to be. */
  readonly rest: FactorRest | null;
}

/** What was left of N before the equations that may be exchanged were added. */
export interface FactorRest {
  /** The places that those equations may meet, and those that these meet later; rising. */
  readonly places: Int32Array;
  /** The blocks of the columns of these places, as they stood, one after the other. */
  readonly diagonal: Float64Array;
  readonly lower: Float64Array;
  /** Of each unknown its own term of N, those of a place `mostWide` after those of the one before. */
  readonly scales: Float64Array;
}

/** The last equations of some, which others may take the place of. */
export interface ExchangedEquations {
  /** The first of them; all that follow are likewise. */
  readonly from: number;
  /** The blocks that they, and what takes their place, may meet, each equation one of them. */
  readonly blocks: readonly number[];
  /** The factor of the same equations with others in the place of these; null: there is none yet. */
  readonly before: BlockFactor | null;
}

/** The factor; or the block at which the normal equations turn out not to determine the unknowns. */
export type FactorResult =
  { readonly ok: true; readonly factor: BlockFactor } | { readonly ok: false; readonly block: number };

/**
 * Forms the normal equations N = Aᵀ P A and factors them.
 *
 * Given: the equations; the order of an earlier factor of equations that meet the same blocks, null: it is found; which of the
 * equations may be exchanged for others later, null: none. Returned: the factor, or the block that is not determined.
 *
 * Note: what equations that are exchanged do not meet is worked out once: the columns of points that control does not touch,
 * nearly all of a network, are taken over as they stand.
 *
 * Reference: DAVIS-2006 (from memory), in blocks.
 */
export function factorNormals(
  equations: BlockEquations,
  known: EliminationOrder | null = null,
  exchange: ExchangedEquations | null = null,
): FactorResult {
  const begun = exchange?.before ?? null;
  if (exchange !== null && begun?.rest) return finish(equations, exchange.from, resumed(begun, begun.rest), begun.rest);
  const plain = layOut(equations, known ?? eliminationOrder(equations.sizes.length, equations));
  const from = exchange === null ? equations.count : exchange.from;
  assemble(equations, plain, 0, from);
  const places = exchange === null ? new Int32Array(0) : laterThan(plain.order, exchange.blocks);
  const first = others(places, plain.widths.length);
  const scales = new Float64Array(plain.mostWide * plain.widths.length);
  addDiagonal(plain, first, scales, 1);
  addDiagonal(plain, places, scales, 1);
  const failed = eliminate(plain, first, scales);
  if (failed !== null) return { ok: false, block: plain.order.blockAt[failed]! };
  if (exchange === null) return { ok: true, factor: plain };
  const rest = { ...copied(plain, places), places, scales };
  return finish(equations, from, { ...plain, rest }, rest);
}

/** Adds the last equations to what is left, and factors that. */
function finish(
  equations: BlockEquations,
  from: number,
  factor: BlockFactor,
  { places, scales }: FactorRest,
): FactorResult {
  const whole = scales.slice();
  addDiagonal(factor, places, whole, -1);
  assemble(equations, factor, from, equations.count);
  addDiagonal(factor, places, whole, 1);
  const failed = eliminate(factor, places, whole);
  return failed === null ? { ok: true, factor } : { ok: false, block: factor.order.blockAt[failed]! };
}

/** The places of some blocks and all that they meet later, rising. */
function laterThan({ placeOf, belowStarts, below }: EliminationOrder, blocks: readonly number[]): Int32Array {
  const isLater = new Uint8Array(placeOf.length);
  for (const block of blocks) isLater[placeOf[block]!] = 1;
  let count = 0;
  for (let k = 0; k < isLater.length; k += 1) {
    if (isLater[k] === 0) continue;
    count += 1;
    for (let entry = belowStarts[k]!; entry < belowStarts[k + 1]!; entry += 1) isLater[below[entry]!] = 1;
  }
  const places = new Int32Array(count);
  for (let k = 0, at = 0; k < isLater.length; k += 1)
    if (isLater[k] === 1) {
      places[at] = k;
      at += 1;
    }
  return places;
}

/** All places but some, rising. */
function others(places: Int32Array, count: number): Int32Array {
  const rest = new Int32Array(count - places.length);
  let [next, at] = [0, 0];
  for (let k = 0; k < count; k += 1)
    if (places[next] === k) next += 1;
    else {
      rest[at] = k;
      at += 1;
    }
  return rest;
}

/** Adds the own term of each unknown of some places, times a sign; those of a place `mostWide` after those of the one before. */
function addDiagonal(factor: BlockFactor, places: Int32Array, terms: Float64Array, sign: 1 | -1): void {
  const { widths, diagonalStarts, mostWide, panels } = factor;
  for (let at = 0; at < places.length; at += 1) {
    const k = places[at]!;
    const width = widths[k]!;
    const own = diagonalStarts[k]!;
    for (let r = 0; r < width; r += 1) terms[k * mostWide + r]! += sign * panels.diagonal[own + r * width + r]!;
  }
}

/** The columns of some places, one after the other. */
function copied(factor: BlockFactor, places: Int32Array): BlockPanels {
  let [squares, blocks] = [0, 0];
  for (const k of places) {
    squares += squareOf(factor, k).length;
    blocks += columnOf(factor, k).length;
  }
  const copy = { diagonal: new Float64Array(squares), lower: new Float64Array(blocks) };
  [squares, blocks] = [0, 0];
  for (const k of places) {
    copy.diagonal.set(squareOf(factor, k), squares);
    copy.lower.set(columnOf(factor, k), blocks);
    squares += squareOf(factor, k).length;
    blocks += columnOf(factor, k).length;
  }
  return copy;
}

/** The factor as it stood before its last equations were added. */
function resumed(before: BlockFactor, { places, diagonal, lower }: FactorRest): BlockFactor {
  const panels = { diagonal: before.panels.diagonal.slice(), lower: before.panels.lower.slice() };
  const factor = { ...before, panels };
  let [squares, blocks] = [0, 0];
  for (const k of places) {
    const [square, column] = [squareOf(factor, k), columnOf(factor, k)];
    square.set(diagonal.subarray(squares, squares + square.length));
    column.set(lower.subarray(blocks, blocks + column.length));
    squares += square.length;
    blocks += column.length;
  }
  return factor;
}

function squareOf({ widths, diagonalStarts, panels }: BlockFactor, k: number): Float64Array {
  return panels.diagonal.subarray(diagonalStarts[k], diagonalStarts[k]! + widths[k]! ** 2);
}

function columnOf({ order, lowerStarts, panels }: BlockFactor, k: number): Float64Array {
  return panels.lower.subarray(lowerStarts[order.belowStarts[k]!], lowerStarts[order.belowStarts[k + 1]!]);
}

/** The room of a factor, all zero. */
function layOut({ sizes, starts }: BlockEquations, order: EliminationOrder): BlockFactor {
  const { blockAt, belowStarts, below } = order;
  const count = blockAt.length;
  const widths = new Int32Array(count);
  const diagonalStarts = new Int32Array(count + 1);
  for (let k = 0; k < count; k += 1) {
    widths[k] = sizes[blockAt[k]!]!;
    diagonalStarts[k + 1] = diagonalStarts[k]! + widths[k]! ** 2;
  }
  const lowerStarts = new Int32Array(below.length + 1);
  let [mostWide, mostRows] = [1, 1];
  const threes = new Uint8Array(count);
  for (let k = 0; k < count; k += 1) {
    let rows = 0;
    let isThree = widths[k] === 3;
    for (let entry = belowStarts[k]!; entry < belowStarts[k + 1]!; entry += 1) {
      const height = widths[below[entry]!]!;
      rows += height;
      isThree &&= height === 3;
      lowerStarts[entry + 1] = lowerStarts[entry]! + height * widths[k]!;
    }
    mostWide = Math.max(mostWide, widths[k]!);
    mostRows = Math.max(mostRows, rows);
    threes[k] = isThree ? 1 : 0;
  }
  const panels: BlockPanels = {
    diagonal: new Float64Array(diagonalStarts[count]!),
    lower: new Float64Array(lowerStarts[below.length]!),
  };
  return { order, starts, widths, diagonalStarts, lowerStarts, mostWide, mostRows, threes, panels, rest: null };
}
