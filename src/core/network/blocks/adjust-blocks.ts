import { predicted, rowsOf } from './block-equations.js';
import type { BlockEquations } from './block-equations.js';
import { factorNormals } from './block-factor.js';
import type { BlockFactor, ExchangedEquations } from './block-factor.js';
import type { EliminationOrder } from './elimination-order.js';
import { solveFactored } from './factor-solve.js';

/** A least-squares solution of equations in blocks. */
export interface BlockSolution {
  readonly equations: BlockEquations;
  readonly factor: BlockFactor;
  /** The unknowns, block after block as they were given: `equations.starts` says where each begins. */
  readonly unknowns: Float64Array;
  /** v = A x − l, observation after observation: `equations.rowStarts` says where each begins. */
  readonly residuals: Float64Array;
  /** vᵀ P v, no unit. */
  readonly weightedSquares: number;
  /** Numbers observed less unknowns. */
  readonly degreesOfFreedom: number;
}

/** The solution; or the block that the observations do not determine. */
export type BlockOutcome =
  { readonly ok: true; readonly solution: BlockSolution } | { readonly ok: false; readonly block: number };

/**
 * Least squares in blocks, refined once so that no digit is lost to the normal equations.
 *
 * Given: the equations; an order of elimination found before for the same blocks, null: it is found; which equations may be
 * exchanged, null: none. Returned: the solution, or the block that is not determined. Reference: AITKEN-1935.
 */
export function adjustBlocks(
  equations: BlockEquations,
  order: EliminationOrder | null = null,
  exchange: ExchangedEquations | null = null,
): BlockOutcome {
  const factored = factorNormals(equations, order, exchange);
  if (!factored.ok) return factored;
  const { factor } = factored;
  const residuals = new Float64Array(equations.observed.length);
  for (let at = 0; at < residuals.length; at += 1) residuals[at] = -equations.observed[at]!;
  const unknowns = new Float64Array(equations.starts[equations.sizes.length]!);
  for (let turn = 0; turn < 2; turn += 1) {
    const step = solveFactored(factor, rightSide(equations, residuals));
    for (let at = 0; at < step.length; at += 1) unknowns[at]! += step[at]!;
    residualsAt(equations, unknowns, residuals);
  }
  return {
    ok: true,
    solution: {
      equations,
      factor,
      unknowns,
      residuals,
      weightedSquares: squares(equations, residuals),
      degreesOfFreedom: residuals.length - unknowns.length,
    },
  };
}

/** Numbers observed together at most. */
export const MOST_ROWS = 8;

/** −Aᵀ P v. */
function rightSide(equations: BlockEquations, residuals: Float64Array): Float64Array {
  const { sizes, starts, rowStarts, weightStarts, weights, termStarts, termBlocks, matrices } = equations;
  const right = new Float64Array(starts[sizes.length]!);
  const weighted = new Float64Array(MOST_ROWS);
  for (let index = 0; index < equations.count; index += 1) {
    const m = rowsOf(equations, index);
    const row = rowStarts[index]!;
    times(weights, weightStarts[index]!, residuals, row, m, weighted);
    for (let term = termStarts[index]!; term < termStarts[index + 1]!; term += 1) {
      const block = termBlocks[term]!;
      const size = sizes[block]!;
      const start = starts[block]!;
      const from = equations.termMatrices[term]!;
      const factor = equations.termFactors[term]!;
      if (from < 0 && size === 3) {
        right[start]! -= factor * weighted[0]!;
        right[start + 1]! -= factor * weighted[1]!;
        right[start + 2]! -= factor * weighted[2]!;
        continue;
      }
      for (let c = 0; c < size; c += 1) {
        if (from < 0) right[start + c]! -= factor * weighted[c]!;
        else for (let r = 0; r < m; r += 1) right[start + c]! -= matrices[from + r * size + c]! * weighted[r]!;
      }
    }
  }
  return right;
}

/** W x of one observation, from places of their arrays on. */
export function times(
  weights: Float64Array,
  at: number,
  x: Float64Array,
  from: number,
  m: number,
  into: Float64Array,
): void {
  if (m === 3) {
    const x0 = x[from]!;
    const x1 = x[from + 1]!;
    const x2 = x[from + 2]!;
    into[0] = weights[at]! * x0 + weights[at + 1]! * x1 + weights[at + 2]! * x2;
    into[1] = weights[at + 3]! * x0 + weights[at + 4]! * x1 + weights[at + 5]! * x2;
    into[2] = weights[at + 6]! * x0 + weights[at + 7]! * x1 + weights[at + 8]! * x2;
    return;
  }
  for (let r = 0; r < m; r += 1) {
    let sum = 0;
    for (let s = 0; s < m; s += 1) sum += weights[at + r * m + s]! * x[from + s]!;
    into[r] = sum;
  }
}

function residualsAt(equations: BlockEquations, unknowns: Float64Array, into: Float64Array): void {
  const { rowStarts, observed } = equations;
  const computed = new Float64Array(MOST_ROWS);
  for (let index = 0; index < equations.count; index += 1) {
    predicted(equations, index, unknowns, computed);
    const row = rowStarts[index]!;
    for (let r = 0; row + r < rowStarts[index + 1]!; r += 1) into[row + r] = computed[r]! - observed[row + r]!;
  }
}

function squares(equations: BlockEquations, residuals: Float64Array): number {
  const { rowStarts, weightStarts, weights } = equations;
  const weighted = new Float64Array(MOST_ROWS);
  let sum = 0;
  for (let index = 0; index < equations.count; index += 1) {
    const m = rowsOf(equations, index);
    const row = rowStarts[index]!;
    times(weights, weightStarts[index]!, residuals, row, m, weighted);
    for (let r = 0; r < m; r += 1) sum += residuals[row + r]! * weighted[r]!;
  }
  return sum;
}
