import { choleskyFactor, choleskyInverse } from '../../numeric/linear-solve.js';
import { entryAt } from '../../../records/present.js';
import { adjustBlocks, MOST_ROWS } from '../blocks/adjust-blocks.js';
import type { BlockSolution } from '../blocks/adjust-blocks.js';
import { blockCofactors } from '../blocks/block-cofactors.js';
import type { BlockCofactors } from '../blocks/block-cofactors.js';
import { rowsOf, termRows } from '../blocks/block-equations.js';
import type { BlockEquations } from '../blocks/block-equations.js';
import { crossCofactor, pathOf } from '../blocks/factor-paths.js';
import type { BlockPath } from '../blocks/factor-paths.js';

/** What one group of observations says of its own stated variances. */
export interface VarianceComponent {
  /** What the stated variances of the group are multiplied by, so that its residuals bear them out. */
  readonly factor: number;
  /** One sigma of the factor. */
  readonly sigma: number;
  /** Redundancy of the group, the part of all degrees of freedom that it holds. */
  readonly redundancy: number;
  /** True: the standard error holds what the groups share; false: too many numbers for that, and it is √(2 / redundancy). */
  readonly isExact: boolean;
}

/** Below this redundancy a group says nothing of its own variance. */
const LEAST_REDUNDANCY = 1;
/** A group whose factor falls below this has no variance of its own left to be told. */
const LEAST_FACTOR = 1e-4;
const MOST_TURNS = 500;
const SETTLED = 1e-10;
/** Numbers observed up to which the standard errors hold what groups share: they need a full matrix of this side. */
const MOST_EXACT = 600;

/**
 * Variance components of groups of observations by iterated θ = vᵀPv / r of each, whose fixed point is that of Helmert's method
 * and of restricted maximum likelihood.
 *
 * Given: the equations; the group of each observation, 0 and up, −1: its variances hold as stated; how many groups there are.
 * Returned: one component a group, null for one without redundancy; null in all where the equations are not determined, where
 * the groups cannot be told apart, or where the iteration does not settle. Reference: HELMERT-1924 (from memory); PATTERSON-THOMPSON-1971 (from memory).
 *
 * @example
 * // One number measured three times as 1, 2 and 6, by hand: residuals of 2, 1 and −3, and 14 over two degrees of freedom.
 * const once = (observed) => ({ terms: [{ block: 0, matrix: null, factor: 1 }], observed: [observed], weight: [1] });
 * const [component] = varianceComponents(equationsOf([1], [1, 2, 6].map(once)), [0, 0, 0], 1);
 * [component.factor, component.redundancy]; // [7.000, 2.000]
 */
export function varianceComponents(
  equations: BlockEquations,
  groups: ArrayLike<number>,
  count: number,
): readonly (VarianceComponent | null)[] | null {
  const factors = new Float64Array(count).fill(1);
  const isTold = new Uint8Array(count).fill(1);
  let order: BlockSolution['factor']['order'] | null = null;
  for (let turn = 0; turn < MOST_TURNS; turn += 1) {
    const scaled = withFactors(equations, groups, factors);
    const outcome = adjustBlocks(scaled, order);
    if (!outcome.ok) return null;
    const { solution } = outcome;
    order = solution.factor.order;
    const cofactors = blockCofactors(solution);
    const { squares, redundancy } = ofGroups(solution, cofactors, groups, count);
    let change = 0;
    for (let k = 0; k < count; k += 1) {
      if (turn === 0 && redundancy[k]! < LEAST_REDUNDANCY) isTold[k] = 0;
      if (isTold[k] === 0) continue;
      const by = Math.max(squares[k]! / redundancy[k]!, 1e-3);
      // A group that the others leave no freedom takes all for itself, and its factor falls without end: they cannot be told apart.
      if (factors[k]! * by < LEAST_FACTOR || redundancy[k]! < LEAST_REDUNDANCY) return null;
      factors[k]! *= by;
      change = Math.max(change, Math.abs(by - 1));
    }
    if (change > SETTLED) continue;
    const errors = solution.residuals.length <= MOST_EXACT ? exactErrors(solution, groups, count, isTold) : null;
    return Array.from(factors, (factor, k) =>
      isTold[k] === 0
        ? null
        : {
            factor,
            sigma: factor * (errors === null ? Math.sqrt(2 / redundancy[k]!) : errors[k]!),
            redundancy: redundancy[k]!,
            isExact: errors !== null,
          },
    );
  }
  return null;
}

function withFactors(equations: BlockEquations, groups: ArrayLike<number>, factors: Float64Array): BlockEquations {
  const weights = equations.weights.slice();
  for (let index = 0; index < equations.count; index += 1) {
    const group = groups[index]!;
    if (group < 0) continue;
    const m = rowsOf(equations, index);
    const from = equations.weightStarts[index]!;
    for (let at = 0; at < m * m; at += 1) weights[from + at]! /= factors[group]!;
  }
  return { ...equations, weights };
}

/** vᵀPv and redundancy of each group. */
function ofGroups(
  { equations, residuals }: BlockSolution,
  cofactors: BlockCofactors,
  groups: ArrayLike<number>,
  count: number,
): { readonly squares: Float64Array; readonly redundancy: Float64Array } {
  const { rowStarts, weightStarts, weights } = equations;
  const squares = new Float64Array(count);
  const redundancy = new Float64Array(count);
  const h = new Float64Array(MOST_ROWS * MOST_ROWS);
  for (let index = 0; index < equations.count; index += 1) {
    const group = groups[index]!;
    if (group < 0) continue;
    const m = rowsOf(equations, index);
    const from = weightStarts[index]!;
    const start = rowStarts[index]!;
    cofactors.ofObservation(index, h);
    for (let r = 0; r < m; r += 1) {
      redundancy[group]! += 1;
      for (let s = 0; s < m; s += 1) {
        squares[group]! += residuals[start + r]! * weights[from + r * m + s]! * residuals[start + s]!;
        redundancy[group]! -= h[r * m + s]! * weights[from + s * m + r]!;
      }
    }
  }
  return { squares, redundancy };
}

/** One sigma of each factor over the factor: √(2 S⁻¹) with S_ij = tr(R C_i R C_j), R = P − P A Q Aᵀ P and C_i the group's own covariance. */
function exactErrors(
  solution: BlockSolution,
  groups: ArrayLike<number>,
  count: number,
  isTold: Uint8Array,
): Float64Array | null {
  const { equations } = solution;
  const n = solution.residuals.length;
  const e = unfitted(solution);
  const groupOf = new Int32Array(n);
  for (let index = 0; index < equations.count; index += 1)
    groupOf.fill(groups[index]!, equations.rowStarts[index], equations.rowStarts[index + 1]);
  const told = Array.from({ length: count }, (_, k) => k).filter((k) => isTold[k] === 1);
  const place = new Map(told.map((k, at) => [k, at]));
  const s = new Float64Array(told.length * told.length);
  for (let r = 0; r < n; r += 1) {
    const a = place.get(groupOf[r]!);
    if (a === undefined) continue;
    for (let c = 0; c < n; c += 1) {
      const b = place.get(groupOf[c]!);
      if (b !== undefined) s[a * told.length + b]! += e[r * n + c]! * e[c * n + r]!;
    }
  }
  const root = choleskyFactor(s, told.length);
  if (root === null) return null;
  const inverse = choleskyInverse(root, told.length);
  const errors = new Float64Array(count);
  told.forEach((k, at) => (errors[k] = Math.sqrt(2 * inverse[at * told.length + at]!)));
  return errors;
}

/** P⁻¹ R = I − A Q Aᵀ P as a full matrix: S_ij is the sum of E_rc E_cr over the rows r of group i and the columns c of group j. */
function unfitted({ equations, factor }: BlockSolution): Float64Array {
  const { count, rowStarts, weightStarts, weights } = equations;
  const n = rowStarts[count]!;
  const paths = Array.from(equations.termBlocks, (block) => pathOf(factor, block));
  const fitted = new Float64Array(n * n);
  for (let i = 0; i < count; i += 1)
    for (let j = 0; j < count; j += 1) addFitted(equations, factor, paths, i, j, fitted);
  const e = new Float64Array(n * n);
  for (let j = 0; j < count; j += 1) {
    const m = rowsOf(equations, j);
    const column = rowStarts[j]!;
    for (let r = 0; r < n; r += 1)
      for (let c = 0; c < m; c += 1) {
        let sum = r === column + c ? 1 : 0;
        for (let s = 0; s < m; s += 1) sum -= fitted[r * n + column + s]! * weights[weightStarts[j]! + s * m + c]!;
        e[r * n + column + c] = sum;
      }
  }
  return e;
}

/** Adds A Q Aᵀ of two observations to the full matrix. */
function addFitted(
  equations: BlockEquations,
  factor: BlockSolution['factor'],
  paths: readonly BlockPath[],
  i: number,
  j: number,
  fitted: Float64Array,
): void {
  const { sizes, rowStarts, termStarts, termBlocks } = equations;
  const n = rowStarts[equations.count]!;
  const [m, k] = [rowsOf(equations, i), rowsOf(equations, j)];
  const rows = new Float64Array(MOST_ROWS * MOST_ROWS);
  const others = new Float64Array(MOST_ROWS * MOST_ROWS);
  for (let a = termStarts[i]!; a < termStarts[i + 1]!; a += 1)
    for (let b = termStarts[j]!; b < termStarts[j + 1]!; b += 1) {
      const q = crossCofactor(factor, entryAt(paths, a), entryAt(paths, b));
      const [sa, sb] = [sizes[termBlocks[a]!]!, sizes[termBlocks[b]!]!];
      termRows(equations, a, m, rows);
      termRows(equations, b, k, others);
      for (let r = 0; r < m; r += 1)
        for (let c = 0; c < k; c += 1)
          for (let s = 0; s < sa; s += 1)
            for (let t = 0; t < sb; t += 1)
              fitted[(rowStarts[i]! + r) * n + rowStarts[j]! + c]! +=
                rows[r * sa + s]! * q[s * sb + t]! * others[c * sb + t]!;
    }
}
