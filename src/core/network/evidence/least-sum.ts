import { adjustBlocks } from '../blocks/adjust-blocks.js';
import type { BlockSolution } from '../blocks/adjust-blocks.js';
import { rowsOf } from '../blocks/block-equations.js';
import type { BlockEquations } from '../blocks/block-equations.js';

/** A solution of the least sum of absolute residuals. */
export interface LeastSum {
  readonly solution: BlockSolution;
  /** Σ |R v| over all numbers, with Rᵀ R = P: residuals in units of their sigma. */
  readonly sum: number;
  /** Of each observation, the length of R v: large where it is foul, and not spread over its neighbours. */
  readonly lengths: Float64Array;
}

/** Residuals below this, in sigmas, count as nothing; lowered tenfold turn by turn, so that the sum can settle. */
const FIRST_FLOOR = 1;
const LAST_FLOOR = 1e-9;
const TURNS_A_FLOOR = 60;
/** A floor is left where its sum changes by less than this share. */
const SETTLED = 1e-11;

/**
 * The solution of the least sum of absolute residuals (L1), which up to a third of foul observations do not bend.
 *
 * Given: the equations; the floor, in sigmas, below which residuals need not be told apart. Returned: the solution, the sum and the residuals; null where the unknowns are not determined.
 * Method: least squares with weights one over the residual, from coarse to fine. Where several solutions share the least sum,
 * one of them. Reference: SCHLOSSMACHER-1973 (from memory).
 *
 * @example
 * // Of one number measured three times the least sum of residuals is that of the median, by hand.
 * const once = (observed) => ({ terms: [{ block: 0, matrix: null, factor: 1 }], observed: [observed], weight: [1] });
 * const found = leastSum(equationsOf([1], [1, 2, 10].map(once)));
 * [found.solution.unknowns[0], found.sum]; // [2.000, 9.000]
 */
export function leastSum(equations: BlockEquations, lastFloor: number = LAST_FLOOR): LeastSum | null {
  const roots = lowerRoots(equations);
  const first = adjustBlocks(equations);
  if (!first.ok) return null;
  let solution = first.solution;
  const { order } = solution.factor;
  let best = measured(solution, roots);
  for (let floor = FIRST_FLOOR; floor >= lastFloor; floor /= 10) {
    let before = Infinity;
    for (let turn = 0; turn < TURNS_A_FLOOR; turn += 1) {
      const outcome = adjustBlocks(reweighted(equations, roots, solution, floor), order);
      if (!outcome.ok) return best;
      solution = { ...outcome.solution, equations };
      const now = measured(solution, roots);
      if (now.sum < best.sum) best = now;
      if (Math.abs(before - now.sum) <= SETTLED * now.sum) break;
      before = now.sum;
    }
  }
  return best;
}

/** R of P = Rᵀ R of each observation as the transposed lower factor of P = L Lᵀ: R = Lᵀ, row by row, where P stands. */
function lowerRoots(equations: BlockEquations): Float64Array {
  const { weights, weightStarts } = equations;
  const roots = new Float64Array(weights.length);
  for (let index = 0; index < equations.count; index += 1) {
    const m = rowsOf(equations, index);
    const from = weightStarts[index]!;
    for (let i = 0; i < m; i += 1)
      for (let j = 0; j <= i; j += 1) {
        let rest = weights[from + i * m + j]!;
        for (let k = 0; k < j; k += 1) rest -= roots[from + k * m + i]! * roots[from + k * m + j]!;
        roots[from + j * m + i] = i === j ? Math.sqrt(rest) : rest / roots[from + j * m + j]!;
      }
  }
  return roots;
}

function measured(solution: BlockSolution, roots: Float64Array): LeastSum {
  const { equations } = solution;
  let sum = 0;
  const lengths = new Float64Array(equations.count);
  for (let index = 0; index < equations.count; index += 1) {
    let square = 0;
    for (let r = 0; r < rowsOf(equations, index); r += 1) {
      const size = whitened(solution, roots, index, r);
      sum += Math.abs(size);
      square += size * size;
    }
    lengths[index] = Math.sqrt(square);
  }
  return { solution, sum, lengths };
}

/** One number of R v. */
function whitened({ equations, residuals }: BlockSolution, roots: Float64Array, index: number, r: number): number {
  const m = rowsOf(equations, index);
  const from = equations.weightStarts[index]!;
  const row = equations.rowStarts[index]!;
  let size = 0;
  for (let s = r; s < m; s += 1) size += roots[from + r * m + s]! * residuals[row + s]!;
  return size;
}

/** Rᵀ W R with W one over the residuals, none of them taken below the floor. */
function reweighted(
  equations: BlockEquations,
  roots: Float64Array,
  solution: BlockSolution,
  floor: number,
): BlockEquations {
  const weights = new Float64Array(equations.weights.length);
  for (let index = 0; index < equations.count; index += 1) {
    const m = rowsOf(equations, index);
    const from = equations.weightStarts[index]!;
    for (let r = 0; r < m; r += 1) {
      const by = 1 / Math.max(floor, Math.abs(whitened(solution, roots, index, r)));
      for (let i = 0; i < m; i += 1)
        for (let j = 0; j < m; j += 1)
          weights[from + i * m + j]! += roots[from + r * m + i]! * by * roots[from + r * m + j]!;
    }
  }
  return { ...equations, weights };
}
