import { eigenInPlace } from '../../numeric/symmetric-eigen.js';
import { evidenceOfThree } from './evidence-of-three.js';
import { product3, productOfTransposed3 } from '../blocks/three-by-three.js';

/** Of a direction of an observation: below this share of redundancy nothing at all checks it; what is left is rounding. */
export const NO_REDUNDANCY = 1e-6;

/** What the others say of some numbers observed together; overwritten by the next that are looked at. */
export interface BlockEvidence {
  /**
   * Null: others check every direction of the block by far, and `inverse` is (P Q_v P)⁻¹, row by row. Else the share of redundancy
   * in each of the block's own axes, rising, and those axes as columns, each of unit sigma, row by row.
   */
  readonly inAxes: { readonly shares: Float64Array; readonly axes: Float64Array } | null;
  readonly inverse: Float64Array;
  /** w of each number, in the form for correlated observations; NaN where nothing checks it. */
  readonly w: Float64Array;
  /** What the others say minus what was observed, so far as they say it. */
  readonly othersMinusObserved: Float64Array;
  /** (P Q_v P)_ii of each number: a bias of √(λ₀ over this) has noncentrality λ₀; 0 where nothing checks it. */
  readonly detectability: Float64Array;
  /** The directions of the block that others check: 0 to as many as it has numbers. */
  readonly checkedDirections: number;
  /** What vᵀPv loses without the block; 0 where nothing checks it. χ² with `checkedDirections` degrees of freedom. */
  readonly lost: number;
}

/** Looks at blocks one after the other, in the same room. */
export interface EvidenceFinder {
  /**
   * Given: an array of weights and where in it P of the block begins; (P Q_v P) of the block; (P v) of it; its size; the share of
   * redundancy below which there is none.
   */
  readonly find: (
    weights: ArrayLike<number>,
    weightAt: number,
    spread: Float64Array,
    forces: ArrayLike<number>,
    m: number,
    least: number,
  ) => BlockEvidence;
}

/**
 * The product of all shares from which on none of them can be small: each is 1 at most. Then no axes need be found, and what the
 * others say follows from an inverse; below it the axes are looked at one by one.
 */
const ALL_CHECKED = 1e-3;

type Filled = { -readonly [Key in keyof BlockEvidence]: BlockEvidence[Key] };

/**
 * What the others say of blocks of at most so many numbers.
 *
 * Note: Q_v is looked at in units of the block's own sigma, where it has eigenvalues of 0 to 1: the share of an error in each
 * direction that shows in the residuals.
 */
export function createEvidence(most: number): EvidenceFinder {
  const square = (): Float64Array => new Float64Array(most * most);
  const axes = square();
  const found: Filled = {
    inAxes: null,
    inverse: square(),
    w: new Float64Array(most),
    othersMinusObserved: new Float64Array(most),
    detectability: new Float64Array(most),
    checkedDirections: 0,
    lost: 0,
  };
  const room: Room = {
    found,
    inAxes: { shares: new Float64Array(most), axes },
    squares: [square(), square(), square(), square(), square()],
  };
  return {
    find(weights, weightAt, spread, forces, m, least) {
      const { inverse, othersMinusObserved } = found;
      const quick =
        m === 3 ? evidenceOfThree(weights, weightAt, spread, forces, inverse, othersMinusObserved, ALL_CHECKED) : NaN;
      if (Number.isNaN(quick)) findAny(room, weights, weightAt, spread, forces, m, least);
      else {
        found.inAxes = null;
        found.checkedDirections = 3;
        found.lost = quick;
      }
      for (let i = 0; i < m; i += 1) {
        const own = spread[i * m + i]!;
        const isChecked = own > weights[weightAt + i * m + i]! * least;
        found.detectability[i] = isChecked ? own : 0;
        found.w[i] = isChecked ? forces[i]! / Math.sqrt(own) : NaN;
      }
      return found;
    },
  };
}

/** What `findAny` works in. */
interface Room {
  readonly found: Filled;
  readonly inAxes: { readonly shares: Float64Array; readonly axes: Float64Array };
  readonly squares: readonly [Float64Array, Float64Array, Float64Array, Float64Array, Float64Array];
}

/** What the others say of a block of any size, checked whole or in part; all but `w` and `detectability`. */
const findAny: (room: Room, ...block: Parameters<EvidenceFinder['find']>) => void = (
  { found, inAxes, squares },
  weights,
  weightAt,
  spread,
  forces,
  m,
  least,
) => {
  const [root, inverse, half, turned, vectors] = squares;
  const { axes } = inAxes;
  upperRoot(weights, weightAt, root, m);
  inverseUpper(root, inverse, m);
  product(spread, inverse, half, m);
  productOfTransposed(inverse, half, turned, m);
  const others = found.othersMinusObserved.fill(0);
  if (isAllChecked(turned, half, m)) {
    // (R⁻¹ U⁻¹)(R⁻¹ U⁻¹)ᵀ with P = Rᵀ R and the turned matrix = Uᵀ U.
    inverseUpper(half, vectors, m);
    product(inverse, vectors, axes, m);
    found.inAxes = null;
    found.checkedDirections = m;
    found.lost = squared(axes, forces, others, found.inverse, m);
    return;
  }
  if (isNothing(turned, m, least)) identity(vectors, m);
  else eigenInPlace(turned, vectors, m);
  product(inverse, vectors, axes, m);
  found.inAxes = inAxes;
  found.checkedDirections = 0;
  found.lost = 0;
  for (let k = 0; k < m; k += 1) {
    const share = turned[k * m + k]!;
    inAxes.shares[k] = share;
    if (share < least) continue;
    found.checkedDirections += 1;
    let force = 0;
    for (let i = 0; i < m; i += 1) force += axes[i * m + k]! * forces[i]!;
    found.lost += (force * force) / share;
    for (let i = 0; i < m; i += 1) others[i]! += (axes[i * m + k]! * force) / share;
  }
};

/** Whether no direction of a matrix of shares keeps the least: then one set of axes is as good as another. */
function isNothing(shares: Float64Array, m: number, least: number): boolean {
  let sum = 0;
  for (let at = 0; at < m * m; at += 1) sum += Math.abs(shares[at]!);
  return sum < least;
}

function identity(into: Float64Array, m: number): void {
  for (let at = 0; at < m * m; at += 1) into[at] = 0;
  for (let i = 0; i < m; i += 1) into[i * m + i] = 1;
}

/** Whether no direction of a matrix of shares can be small; then its upper root stands in `root`. */
function isAllChecked(shares: Float64Array, root: Float64Array, m: number): boolean {
  let product = 1;
  for (let i = 0; i < m; i += 1)
    for (let j = i; j < m; j += 1) {
      let rest = shares[i * m + j]!;
      for (let k = 0; k < i; k += 1) rest -= root[k * m + i]! * root[k * m + j]!;
      if (i === j) {
        product *= rest;
        if (!(product > ALL_CHECKED)) return false;
        root[i * m + j] = Math.sqrt(rest);
      } else root[i * m + j] = rest / root[i * m + i]!;
    }
  return true;
}

/** With S⁻¹ = K Kᵀ: S⁻¹ into `inverse`, S⁻¹ g into `others`; returned: gᵀ S⁻¹ g. */
function squared(
  k: Float64Array,
  forces: ArrayLike<number>,
  others: Float64Array,
  inverse: Float64Array,
  m: number,
): number {
  let lost = 0;
  for (let i = 0; i < m; i += 1) {
    for (let j = 0; j < m; j += 1) {
      let sum = 0;
      for (let c = 0; c < m; c += 1) sum += k[i * m + c]! * k[j * m + c]!;
      inverse[i * m + j] = sum;
      others[i]! += sum * forces[j]!;
    }
    lost += forces[i]! * others[i]!;
  }
  return lost;
}

/** R with Rᵀ R = P, upper, row by row. */
function upperRoot(weights: ArrayLike<number>, from: number, root: Float64Array, m: number): void {
  for (let i = 0; i < m; i += 1)
    for (let j = i; j < m; j += 1) {
      let rest = weights[from + i * m + j]!;
      for (let k = 0; k < i; k += 1) rest -= root[k * m + i]! * root[k * m + j]!;
      root[i * m + j] = i === j ? Math.sqrt(rest) : rest / root[i * m + i]!;
    }
}

function inverseUpper(root: Float64Array, inverse: Float64Array, m: number): void {
  for (let j = 0; j < m; j += 1) {
    for (let i = j + 1; i < m; i += 1) inverse[i * m + j] = 0;
    inverse[j * m + j] = 1 / root[j * m + j]!;
    for (let i = j - 1; i >= 0; i -= 1) {
      let sum = 0;
      for (let k = i + 1; k <= j; k += 1) sum += root[i * m + k]! * inverse[k * m + j]!;
      inverse[i * m + j] = -sum / root[i * m + i]!;
    }
  }
}

/** A B. */
export function product(a: Float64Array, b: Float64Array, into: Float64Array, m: number): void {
  if (m === 3) {
    product3(a, b, into);
    return;
  }
  for (let i = 0; i < m; i += 1)
    for (let j = 0; j < m; j += 1) {
      let sum = 0;
      for (let k = 0; k < m; k += 1) sum += a[i * m + k]! * b[k * m + j]!;
      into[i * m + j] = sum;
    }
}

/** Aᵀ B. */
function productOfTransposed(a: Float64Array, b: Float64Array, into: Float64Array, m: number): void {
  if (m === 3) {
    productOfTransposed3(a, b, into);
    return;
  }
  for (let i = 0; i < m; i += 1)
    for (let j = 0; j < m; j += 1) {
      let sum = 0;
      for (let k = 0; k < m; k += 1) sum += a[k * m + i]! * b[k * m + j]!;
      into[i * m + j] = sum;
    }
}
