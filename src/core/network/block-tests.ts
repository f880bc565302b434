import { chiSquareQuantile } from '../numeric/distributions/chi-square.js';
import { fQuantile } from '../numeric/distributions/f-distribution.js';
import { noncentralityFor } from '../numeric/distributions/noncentral-chi-square.js';
import { symmetricEigen } from '../numeric/symmetric-eigen.js';
import type { BlockCofactors, BlockSolution } from './adjust-blocks.js';

/** Of a direction of an observation: below this share of redundancy nothing at all checks it; what is left is rounding. */
export const NO_REDUNDANCY = 1e-6;

/** An unknown that moves by less than this, where an observation moves by its sigma, does not move: rounding, metres. */
const LEAST_MOVE = 1e-9;

/** What can be said of one observation (of one to three numbers) after an adjustment. */
export interface BlockTest {
  /** Adjusted minus observed, each number in the unit of the observation. */
  readonly residuals: Float64Array;
  /** (Q_v P)_ii of each number: 0 not checked by the others, 1 without influence. */
  readonly redundancy: Float64Array;
  /** w of each number, in the form for correlated observations; null where nothing checks it. */
  readonly w: readonly (number | null)[];
  /** The directions of the observation that others check: 0 to as many as it has numbers. */
  readonly checkedDirections: number;
  /** What vᵀPv loses without this observation; 0 where nothing checks it. χ² with `checkedDirections` degrees of freedom. */
  readonly blockTest: number;
  /** What the others say minus what was observed, so far as they say it. */
  readonly othersMinusObserved: Float64Array;
  /** The share of redundancy in each of its own axes, rising; then those axes as columns, each of unit sigma, row by row. */
  readonly axes: Float64Array;
  /** (P Q_v P)_ii of each number: a bias of √(λ₀ over this) has noncentrality λ₀. */
  readonly detectability: Float64Array;
}

/** Tests of one observation of a solution. */
export function blockTest(solution: BlockSolution, cofactors: BlockCofactors, index: number): BlockTest {
  const { weight, observed } = solution.equations.observations[index]!;
  const m = observed.length;
  const start = solution.rowStarts[index]!;
  const residuals = solution.residuals.slice(start, start + m);
  const h = cofactors.ofObservation(index);
  const ph = product(weight, h, m);
  const php = product(ph, weight, m);
  const spread = Float64Array.from({ length: m * m }, (_, at) => weight[at]! - php[at]!);
  return {
    residuals,
    redundancy: Float64Array.from({ length: m }, (_, i) => 1 - ph[i * m + i]!),
    ...blockEvidence(weight, spread, residualForces(weight, residuals, m), m),
  };
}

/**
 * What the others say of a block.
 *
 * Given: its weight P; (P Q_v P) of the block; (P v) of the block; its size; the share of
 * redundancy below which there is none. Returned: the parts of `BlockTest` that follow.
 * Note: Q_v is looked at in units of the block's own sigma, where it has eigenvalues of 0 to 1: the share of an error in each
 * direction that shows in the residuals.
 */
export function blockEvidence(
  weight: ArrayLike<number>,
  spread: ArrayLike<number>,
  forces: ArrayLike<number>,
  m: number,
  least: number = NO_REDUNDANCY,
): Omit<BlockTest, 'residuals' | 'redundancy'> {
  const inverse = inverseUpper(upperRoot(weight, m), m);
  const { values, vectors } = symmetricEigen(congruent(inverse, spread, m), m);
  const othersMinusObserved = new Float64Array(m);
  const axes = new Float64Array(m + m * m);
  let checkedDirections = 0;
  let lost = 0;
  for (let k = 0; k < m; k += 1) {
    const share = values[k]!;
    const direction = columnOf(inverse, vectors, k, m);
    axes[k] = share;
    for (let i = 0; i < m; i += 1) axes[m + i * m + k] = direction[i]!;
    if (share < least) continue;
    checkedDirections += 1;
    let force = 0;
    for (let i = 0; i < m; i += 1) force += direction[i]! * forces[i]!;
    lost += (force * force) / share;
    for (let i = 0; i < m; i += 1) othersMinusObserved[i]! += (direction[i]! * force) / share;
  }
  const detectability = Float64Array.from({ length: m }, (_, i) =>
    spread[i * m + i]! > weight[i * m + i]! * least ? spread[i * m + i]! : 0,
  );
  return {
    w: Array.from(detectability, (own, i) => (own > 0 ? forces[i]! / Math.sqrt(own) : null)),
    checkedDirections,
    blockTest: lost,
    axes,
    othersMinusObserved,
    detectability,
  };
}

/**
 * How far a bias in an observation that its test does not find can move one of its blocks of unknowns.
 *
 * Given: the solution; its covariances; the observation; its own test; one of its blocks. Returned: the greatest length of
 * Q Aᵀ P ∇ over all ∇ with ∇ᵀ P Q_v P ∇ ≤ 1, in the unit of the unknowns: times √λ₀ it is the external reliability; Infinity
 * where a direction of the observation is not checked and moves the block.
 */
export function biasReach(
  solution: BlockSolution,
  cofactors: BlockCofactors,
  index: number,
  { axes }: Pick<BlockTest, 'axes'>,
  block: number,
): number {
  const { weight, observed } = solution.equations.observations[index]!;
  const m = observed.length;
  const across = cofactors.acrossTo(block, index);
  const size = across.length / m;
  // A bias along each axis, as long as the test lets it be, and what it does to the block.
  const moved = new Float64Array(size * m);
  for (let k = 0; k < m; k += 1) {
    const share = axes[k]!;
    for (let a = 0; a < size; a += 1) {
      let by = 0;
      for (let r = 0; r < m; r += 1) {
        let force = 0;
        for (let s = 0; s < m; s += 1) force += weight[r * m + s]! * axes[m + s * m + k]!;
        by += across[a * m + r]! * force;
      }
      if (share < NO_REDUNDANCY && Math.abs(by) > LEAST_MOVE) return Infinity;
      moved[a * m + k] = share < NO_REDUNDANCY ? 0 : by / Math.sqrt(share);
    }
  }
  const square = new Float64Array(size * size);
  for (let a = 0; a < size; a += 1)
    for (let b = 0; b < size; b += 1)
      for (let k = 0; k < m; k += 1) square[a * size + b]! += moved[a * m + k]! * moved[b * m + k]!;
  return Math.sqrt(Math.max(0, symmetricEigen(square, size).values[size - 1]!));
}

/** What the tests of a set of observations are held against. */
export interface BlockLimits {
  /** Chance that a true observation fails. */
  readonly level: number;
  /** Of `blockTest`, by checked directions from 1 on; null where the variance factor is estimated and too few degrees are left. */
  readonly block: (directions: number) => number | null;
  /** λ₀ of the block test with the stated power, by checked directions. */
  readonly noncentrality: (directions: number) => number;
}

/**
 * Limits of the block tests.
 *
 * Given: the chance that a true observation fails its test; the power that the smallest detectable bias is found with; null: the
 * stated variances hold, or vᵀPv and its degrees of freedom: the variance factor is estimated from the residuals themselves.
 * Note: with an estimated factor the loss over vᵀPv follows the beta distribution, as with Pope's τ, which this is for one number.
 * Reference: BAARDA-1968; POPE-1976.
 */
export function blockLimits(
  level: number,
  power: number,
  estimated: { readonly weightedSquares: number; readonly degreesOfFreedom: number } | null,
): BlockLimits {
  const limits = new Map<number, number | null>();
  const powers = new Map<number, number>();
  return {
    level,
    block(directions) {
      const known = limits.get(directions);
      if (known !== undefined) return known;
      const limit =
        estimated === null ? chiSquareQuantile(1 - level, directions) : estimatedLimit(level, directions, estimated);
      limits.set(directions, limit);
      return limit;
    },
    noncentrality(directions) {
      const known = powers.get(directions);
      if (known !== undefined) return known;
      const value = noncentralityFor(level, power, directions);
      powers.set(directions, value);
      return value;
    },
  };
}

function estimatedLimit(
  level: number,
  directions: number,
  { weightedSquares, degreesOfFreedom }: { readonly weightedSquares: number; readonly degreesOfFreedom: number },
): number | null {
  const left = degreesOfFreedom - directions;
  if (left < 1) return null;
  const f = fQuantile(1 - level, directions, left);
  return (weightedSquares * directions * f) / (directions * f + left);
}

/** P v. */
function residualForces(weight: ArrayLike<number>, residuals: Float64Array, m: number): Float64Array {
  return Float64Array.from({ length: m }, (_, r) => {
    let sum = 0;
    for (let s = 0; s < m; s += 1) sum += weight[r * m + s]! * residuals[s]!;
    return sum;
  });
}

/** R with Rᵀ R = P, upper, row by row. */
function upperRoot(weight: ArrayLike<number>, m: number): Float64Array {
  const root = new Float64Array(m * m);
  for (let i = 0; i < m; i += 1) {
    for (let j = i; j < m; j += 1) {
      let rest = weight[i * m + j]!;
      for (let k = 0; k < i; k += 1) rest -= root[k * m + i]! * root[k * m + j]!;
      root[i * m + j] = i === j ? Math.sqrt(rest) : rest / root[i * m + i]!;
    }
  }
  return root;
}

function inverseUpper(root: Float64Array, m: number): Float64Array {
  const inverse = new Float64Array(m * m);
  for (let j = 0; j < m; j += 1) {
    inverse[j * m + j] = 1 / root[j * m + j]!;
    for (let i = j - 1; i >= 0; i -= 1) {
      let sum = 0;
      for (let k = i + 1; k <= j; k += 1) sum += root[i * m + k]! * inverse[k * m + j]!;
      inverse[i * m + j] = -sum / root[i * m + i]!;
    }
  }
  return inverse;
}

function product(a: ArrayLike<number>, b: ArrayLike<number>, m: number): Float64Array {
  const c = new Float64Array(m * m);
  for (let i = 0; i < m; i += 1)
    for (let k = 0; k < m; k += 1) for (let j = 0; j < m; j += 1) c[i * m + j]! += a[i * m + k]! * b[k * m + j]!;
  return c;
}

/** Kᵀ S K. */
function congruent(k: Float64Array, s: ArrayLike<number>, m: number): Float64Array {
  const transposed = new Float64Array(m * m);
  for (let i = 0; i < m; i += 1) for (let j = 0; j < m; j += 1) transposed[i * m + j] = k[j * m + i]!;
  return product(product(transposed, s, m), k, m);
}

/** K times column k of some vectors. */
function columnOf(matrix: Float64Array, vectors: Float64Array, k: number, m: number): Float64Array {
  return Float64Array.from({ length: m }, (_, i) => {
    let sum = 0;
    for (let j = 0; j < m; j += 1) sum += matrix[i * m + j]! * vectors[j * m + k]!;
    return sum;
  });
}
