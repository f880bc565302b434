import { normalQuantile } from '../numeric/distributions/normal-quantile.js';
import { inverse2 } from '../numeric/symmetric2.js';
import { tauCritical, tauCriticalOfTwo } from '../numeric/distributions/tau-critical.js';
import type { Adjustment, ObservationEquations } from './adjust-observations.js';

/** Probability of a false alarm for one observation in Baarda's test, where nothing else is said. */
export const BAARDA_FALSE_ALARM = 0.001;
/** Probability that a blunder of the size of the minimal detectable bias is found. */
export const BAARDA_POWER = 0.8;
/** Probability of a false alarm in the whole set in Pope's test, where nothing else is said. */
export const POPE_FALSE_ALARM = 0.05;
/** Below this redundancy an observation is hardly checked by the others; common practice, no published source. */
export const UNCHECKED_BELOW = 0.1;

/** What can be said of one observation after an adjustment. */
export interface ResidualTest {
  /** Adjusted minus observed, in the unit of the observations. */
  readonly residual: number;
  /** 0: not checked at all, 1: has no influence on the solution. Leverage is 1 minus this. */
  readonly redundancy: number;
  /** Residual over its own sigma, weights taken as right; null where nothing checks the observation. */
  readonly standardised: number | null;
  /** The same with the sigma scaled by the residuals themselves; null without redundancy. */
  readonly studentised: number | null;
  /** Of both coordinates of the point together: √(what vᵀPv loses without them / s²); null for heights, and where they are not checked. */
  readonly studentisedPair: number | null;
  /** The smallest blunder that Baarda's test finds with 80 % probability; null where nothing checks it. */
  readonly detectable: number | null;
  /** What the others say of this block's observation minus the observation itself; null where they cannot. */
  readonly leftOut: number | null;
}

/** Critical values of the two tests. */
export interface ResidualLimits {
  /** Baarda: |standardised| above this. */
  readonly baarda: number;
  /** Pope: |studentised| above this; null with a redundancy below 2. */
  readonly pope: number | null;
  /** Both coordinates of a point together: `studentisedPair` above this; null with a redundancy below 3. */
  readonly popePair: number | null;
}

/**
 * The limits for an adjustment. Given: the chance of a false alarm of each observation in Baarda's test, and of the whole set in
 * Pope's. Reference: BAARDA-1968 and POPE-1976; both values are computed, not tabled.
 *
 * @example
 * // 3.29 is the 99.95 % point of the normal distribution; Pope's with 5 % shared among 39 is of SciPy's t with 26 degrees.
 * const limits = residualLimits({ residuals: new Float64Array(39), redundancy: 27 });
 * limits.baarda; // 3.2905
 * limits.pope; // 3.002349
 */
export function residualLimits(
  adjustment: Pick<Adjustment, 'redundancy' | 'residuals'>,
  baardaLevel: number = BAARDA_FALSE_ALARM,
  popeLevel: number = POPE_FALSE_ALARM,
): ResidualLimits {
  const { redundancy, residuals } = adjustment;
  return {
    baarda: normalQuantile(1 - baardaLevel / 2),
    pope: redundancy < 2 ? null : tauCritical(residuals.length, redundancy, popeLevel),
    popePair: tauCriticalOfTwo(residuals.length / 2, redundancy, popeLevel),
  };
}

/**
 * Redundancy, tests and leave-one-out of every observation.
 *
 * Given: the equations and their solution; the chance of a false alarm of each observation. Returned: one test per observation,
 * in their order.
 * w = eᵀPv / √(eᵀP Q_vv P e), which is v/σ_v where observations do not correlate; r = (Q_vv P)_ii;
 * minimal detectable bias δ₀ / √(eᵀP Q_vv P e) with δ₀ = z(1 − α/2) + z(power). A block is left out
 * whole: both coordinates of a point.
 * Reference: BAARDA-1968; POPE-1976.
 *
 * @example
 * // The mean of 0, 0 and 30 mm of 10 mm sigma: each has a redundancy of 2/3, the last a residual of 20 mm over 10 mm √(2/3).
 * const points = [0, 0, 0.03].map((differenceM, i) => ({ place: { eastM: i, northM: 0 }, differenceM, varianceM2: 1e-4 }));
 * const fit = fitHeights(points, false, { eastM: 0, northM: 0 });
 * const [, , last] = residualTests(fit.equations, fit.adjustment);
 * last.redundancy; // 0.6667
 * last.standardised; // -2.4495
 * last.leftOut; // -0.0300
 */
export function residualTests(
  equations: ObservationEquations,
  adjustment: Adjustment,
  baardaLevel: number = BAARDA_FALSE_ALARM,
): readonly ResidualTest[] {
  const { observations: m, blockSize: size, weights } = equations;
  const { residuals, fittedCofactor, redundancy, weightedSquares } = adjustment;
  const deviation = redundancy > 0 ? Math.sqrt(weightedSquares / redundancy) : null;
  const shift = normalQuantile(1 - baardaLevel / 2) + normalQuantile(BAARDA_POWER);
  const tests: ResidualTest[] = [];
  for (let block = 0; block < m; block += size) {
    const at = block * size;
    const p = Array.from(weights.subarray(at, at + size * size));
    const h = Array.from(fittedCofactor.subarray(at, at + size * size));
    const v = Array.from(residuals.subarray(block, block + size));
    // Q_vv = P⁻¹ − H, so P Q_vv P = P − P H P and Q_vv P = I − H P.
    const hp = multiply(h, p, size);
    const php = multiply(p, hp, size);
    const left = leftOut(hp, v, size);
    const lost = size === 2 && redundancy > 0 ? pairLoss(p, php, v) : null;
    for (let r = 0; r < size; r += 1) {
      let pv = 0;
      for (let s = 0; s < size; s += 1) pv += (p[r * size + s] as number) * (v[s] as number);
      const own = p[r * size + r] as number;
      const spread = own - (php[r * size + r] as number);
      const isChecked = redundancy > 0 && spread > own * 1e-10;
      const standardised = isChecked ? pv / Math.sqrt(spread) : null;
      tests.push({
        residual: v[r] as number,
        redundancy: clamp(1 - (hp[r * size + r] as number)),
        standardised,
        studentised: standardised === null || deviation === null || !(deviation > 0) ? null : standardised / deviation,
        studentisedPair: lost === null || deviation === null || !(deviation > 0) ? null : Math.sqrt(lost) / deviation,
        detectable: isChecked ? shift / Math.sqrt(spread) : null,
        leftOut: isChecked && left !== null ? (left[r] as number) : null,
      });
    }
  }
  return tests;
}

function clamp(value: number): number {
  return Math.min(1, Math.max(0, value));
}

function multiply(a: readonly number[], b: readonly number[], size: number): readonly number[] {
  const product: number[] = [];
  for (let i = 0; i < size; i += 1) {
    for (let j = 0; j < size; j += 1) {
      let sum = 0;
      for (let k = 0; k < size; k += 1) sum += (a[i * size + k] as number) * (b[k * size + j] as number);
      product.push(sum);
    }
  }
  return product;
}

/** What vᵀPv loses without the two observations of a block: (Pv)ᵀ (P Q_vv P)⁻¹ Pv; null where nothing checks them. */
function pairLoss(p: readonly number[], php: readonly number[], v: readonly number[]): number | null {
  const [x, y] = v as unknown as readonly [number, number];
  const [xx, xy, yx, yy] = p as unknown as readonly [number, number, number, number];
  const [u, w] = [xx * x + xy * y, yx * x + yy * y];
  const inverse = inverse2({
    xx: xx - (php[0] as number),
    xy: xy - ((php[1] as number) + (php[2] as number)) / 2,
    yy: yy - (php[3] as number),
  });
  if (inverse === null || !(xx - (php[0] as number) > xx * 1e-10)) return null;
  return Math.max(0, inverse.xx * u * u + 2 * inverse.xy * u * w + inverse.yy * w * w);
}

/** (I − H P)⁻¹ v: the block predicted from all others, minus observed. */
function leftOut(hp: readonly number[], v: readonly number[], size: number): readonly number[] | null {
  if (size === 1) {
    const rest = 1 - (hp[0] as number);
    return rest > 1e-10 ? [(v[0] as number) / rest] : null;
  }
  const [a, b, c, d] = [1 - (hp[0] as number), -(hp[1] as number), -(hp[2] as number), 1 - (hp[3] as number)] as const;
  const determinant = a * d - b * c;
  if (!(determinant > 1e-10)) return null;
  return [
    (d * (v[0] as number) - b * (v[1] as number)) / determinant,
    (a * (v[1] as number) - c * (v[0] as number)) / determinant,
  ];
}
