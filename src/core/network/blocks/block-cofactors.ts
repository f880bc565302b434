import type { BlockSolution } from './adjust-blocks.js';
import type { BlockFactor, BlockPanels } from './block-factor.js';
import { rowsOf } from './block-equations.js';
import type { BlockEquations } from './block-equations.js';
import { entryOf } from './elimination-order.js';
import { blockOf, crossBlock } from './factor-paths.js';
import { selectedInverse } from './factor-solve.js';

/** Covariances after an adjustment, in the squared unit of the observations when the weights are right. */
export interface BlockCofactors {
  /** Q of two blocks that meet in an observation (or of one with itself), row by row into `into`. */
  readonly ofBlocks: (a: number, b: number, into: Float64Array) => void;
  /** Q of any two blocks, row by row into `into`. Cheap where each block meets few others, and those meet each other. */
  readonly between: (a: number, b: number, into: Float64Array) => void;
  /** A Q Aᵀ of one observation, row by row into `into`: the covariance of what it comes out at. */
  readonly ofObservation: (index: number, into: Float64Array) => void;
  /** Q_s Aᵀ of one observation with one of its blocks, into `into`: the rows of the block, the columns of the observation. */
  readonly acrossTo: (block: number, index: number, into: Float64Array) => void;
}

/** Numbers in one block at most, as room for it. */
const ROOM = 64;

/** The covariances of a solution. Costs about as much as the solution. */
export function blockCofactors({ equations, factor }: BlockSolution): BlockCofactors {
  const panels = selectedInverse(factor);
  const { sizes, termStarts, termBlocks } = equations;
  const q = new Float64Array(ROOM);
  return {
    ofBlocks: (a, b, into) => blockOf(factor, panels, a, b, into),
    between: (a, b, into) => crossBlock(factor, panels, a, b, into, q),
    acrossTo(block, index, into) {
      const m = rowsOf(equations, index);
      const own = sizes[block]!;
      for (let at = 0; at < own * m; at += 1) into[at] = 0;
      for (let term = termStarts[index]!; term < termStarts[index + 1]!; term += 1) {
        blockOf(factor, panels, block, termBlocks[term]!, q);
        addAcross(equations, term, q, own, m, into);
      }
    },
    ofObservation(index, into) {
      const m = rowsOf(equations, index);
      for (let at = 0; at < m * m; at += 1) into[at] = 0;
      if (m === 3 && isPlain(equations, index)) {
        for (let t = termStarts[index]!; t < termStarts[index + 1]!; t += 1)
          for (let u = t; u < termStarts[index + 1]!; u += 1) addPlain3(equations, factor, panels, t, u, into);
        return;
      }
      for (let t = termStarts[index]!; t < termStarts[index + 1]!; t += 1)
        for (let u = t; u < termStarts[index + 1]!; u += 1) {
          blockOf(factor, panels, termBlocks[t]!, termBlocks[u]!, q);
          addFitted(equations, t, u, q, m, into);
        }
    },
  };
}

/** Whether every block enters an observation times a factor alone. */
function isPlain({ termStarts, termMatrices }: BlockEquations, index: number): boolean {
  for (let term = termStarts[index]!; term < termStarts[index + 1]!; term += 1)
    if (termMatrices[term]! >= 0) return false;
  return true;
}

/** Adds the part of two terms of three numbers that enter times a factor, and where they are two its transpose. */
function addPlain3(
  { termBlocks, termFactors }: BlockEquations,
  { order, diagonalStarts, lowerStarts }: BlockFactor,
  { diagonal, lower }: BlockPanels,
  t: number,
  u: number,
  into: Float64Array,
): void {
  const i = order.placeOf[termBlocks[t]!]!;
  const j = order.placeOf[termBlocks[u]!]!;
  const factor = termFactors[t]! * termFactors[u]!;
  if (t === u) addEven3(into, factor, diagonal, diagonalStarts[i]!);
  else if (i === j) addEven3(into, 2 * factor, diagonal, diagonalStarts[i]!);
  else {
    const early = Math.min(i, j);
    addBoth3(into, factor, lower, lowerStarts[entryOf(order, early, Math.max(i, j), order.belowStarts[early]!)]!);
  }
}

/** Adds a symmetric block times a factor. */
function addEven3(into: Float64Array, factor: number, q: Float64Array, at: number): void {
  into[0]! += factor * q[at]!;
  into[1]! += factor * q[at + 1]!;
  into[2]! += factor * q[at + 2]!;
  into[3]! += factor * q[at + 3]!;
  into[4]! += factor * q[at + 4]!;
  into[5]! += factor * q[at + 5]!;
  into[6]! += factor * q[at + 6]!;
  into[7]! += factor * q[at + 7]!;
  into[8]! += factor * q[at + 8]!;
}

/** Adds a block and its transpose, times a factor. */
function addBoth3(into: Float64Array, factor: number, q: Float64Array, at: number): void {
  const xy = factor * (q[at + 1]! + q[at + 3]!);
  const xz = factor * (q[at + 2]! + q[at + 6]!);
  const yz = factor * (q[at + 5]! + q[at + 7]!);
  into[0]! += 2 * factor * q[at]!;
  into[1]! += xy;
  into[2]! += xz;
  into[3]! += xy;
  into[4]! += 2 * factor * q[at + 4]!;
  into[5]! += yz;
  into[6]! += xz;
  into[7]! += yz;
  into[8]! += 2 * factor * q[at + 8]!;
}

/** Adds Q A_uᵀ of one term, Q with `own` rows, to `into`. */
function addAcross(
  { sizes, termBlocks, termFactors, termMatrices, matrices }: BlockEquations,
  u: number,
  q: Float64Array,
  own: number,
  m: number,
  into: Float64Array,
): void {
  const from = termMatrices[u]!;
  if (from < 0) {
    const factor = termFactors[u]!;
    for (let at = 0; at < own * m; at += 1) into[at]! += factor * q[at]!;
    return;
  }
  const size = sizes[termBlocks[u]!]!;
  for (let a = 0; a < own; a += 1)
    for (let r = 0; r < m; r += 1) {
      let sum = 0;
      for (let c = 0; c < size; c += 1) sum += q[a * size + c]! * matrices[from + r * size + c]!;
      into[a * m + r]! += sum;
    }
}

/** Adds A_t Q A_uᵀ of two terms, and where they are two its transpose, to `into`. */
function addFitted(
  equations: BlockEquations,
  t: number,
  u: number,
  q: Float64Array,
  m: number,
  into: Float64Array,
): void {
  const { sizes, termBlocks, termFactors, termMatrices, matrices } = equations;
  const size = sizes[termBlocks[t]!]!;
  const columns = sizes[termBlocks[u]!]!;
  const [first, second] = [termMatrices[t]!, termMatrices[u]!];
  const factor = (first < 0 ? termFactors[t]! : 1) * (second < 0 ? termFactors[u]! : 1);
  for (let r = 0; r < m; r += 1)
    for (let s = 0; s < m; s += 1) {
      let sum = 0;
      if (first < 0 && second < 0) sum = q[r * m + s]!;
      else
        for (let a = first < 0 ? r : 0; a < (first < 0 ? r + 1 : size); a += 1)
          for (let b = second < 0 ? s : 0; b < (second < 0 ? s + 1 : columns); b += 1)
            sum +=
              (first < 0 ? 1 : matrices[first + r * size + a]!) *
              q[a * columns + b]! *
              (second < 0 ? 1 : matrices[second + s * columns + b]!);
      into[r * m + s]! += factor * sum;
      if (t !== u) into[s * m + r]! += factor * sum;
    }
}
