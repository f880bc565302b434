import { chiSquareQuantile } from '../../numeric/distributions/chi-square.js';
import { fQuantile } from '../../numeric/distributions/f-distribution.js';
import { noncentralityFor } from '../../numeric/distributions/noncentral-chi-square.js';

/** What the tests of a set of observations are held against. */
export interface BlockLimits {
  /** Chance that a true observation fails. */
  readonly level: number;
  /** Of `blockTest`, by checked directions from 1 on; null where the variance factor is estimated and too few degrees are left. */
  readonly block: (directions: number) => number | null;
  /** What the residuals multiply the stated variances by; null: the stated hold. */
  readonly variance: number | null;
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
    variance:
      estimated === null || !(estimated.weightedSquares > 0)
        ? null
        : estimated.weightedSquares / estimated.degreesOfFreedom,
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
