import { adjustBlocks } from './adjust-blocks.js';
import type { BlockSolution } from './adjust-blocks.js';
import type { BlockEquations } from './block-equations.js';

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
 */
export function leastSum(equations: BlockEquations, lastFloor: number = LAST_FLOOR): LeastSum | null {
  const roots = equations.observations.map(({ weight, observed }) => lowerRoot(weight, observed.length));
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

/** R of P = Rᵀ R as the transposed lower factor of P = L Lᵀ: R = Lᵀ, row by row. */
function lowerRoot(weight: ArrayLike<number>, m: number): Float64Array {
  const root = new Float64Array(m * m);
  for (let i = 0; i < m; i += 1) {
    for (let j = 0; j <= i; j += 1) {
      let rest = weight[i * m + j]!;
      for (let k = 0; k < j; k += 1) rest -= root[k * m + i]! * root[k * m + j]!;
      root[j * m + i] = i === j ? Math.sqrt(rest) : rest / root[j * m + j]!;
    }
  }
  return root;
}

function measured(solution: BlockSolution, roots: readonly Float64Array[]): LeastSum {
  let sum = 0;
  const lengths = Float64Array.from(roots, (root, index) => {
    const m = Math.round(Math.sqrt(root.length));
    let square = 0;
    for (let r = 0; r < m; r += 1) {
      const size = whitened(solution, root, m, index, r);
      sum += Math.abs(size);
      square += size * size;
    }
    return Math.sqrt(square);
  });
  return { solution, sum, lengths };
}

function whitened(
  { residuals, rowStarts }: BlockSolution,
  root: Float64Array,
  m: number,
  index: number,
  r: number,
): number {
  let size = 0;
  for (let s = r; s < m; s += 1) size += root[r * m + s]! * residuals[rowStarts[index]! + s]!;
  return size;
}

/** Rᵀ W R with W one over the residuals, none of them taken below the floor. */
function reweighted(
  equations: BlockEquations,
  roots: readonly Float64Array[],
  solution: BlockSolution,
  floor: number,
): BlockEquations {
  return {
    ...equations,
    observations: equations.observations.map((observation, index) => {
      const root = roots[index]!;
      const m = observation.observed.length;
      const by = Array.from(
        { length: m },
        (_, r) => 1 / Math.max(floor, Math.abs(whitened(solution, root, m, index, r))),
      );
      const weight = new Float64Array(m * m);
      for (let i = 0; i < m; i += 1)
        for (let j = 0; j < m; j += 1)
          for (let r = 0; r < m; r += 1) weight[i * m + j]! += root[r * m + i]! * by[r]! * root[r * m + j]!;
      return { ...observation, weight };
    }),
  };
}
