import type { Tails } from './incomplete-gamma.js';
import { incompleteBeta } from './incomplete-beta.js';
import { checkDegreesOfFreedom, checkProbability } from './probability.js';
import { solveIncreasing } from './solve-increasing.js';

function tails(f: number, upperDegrees: number, lowerDegrees: number): Tails {
  if (!(f > 0)) return { lower: 0, upper: 1, slope: 0 };
  const ratio = (upperDegrees * f) / lowerDegrees;
  return incompleteBeta(upperDegrees / 2, lowerDegrees / 2, 1 / (1 + 1 / ratio), 1 / (1 + ratio));
}

/**
 * Probability that a ratio of two sample variances of equal true variance (F) is above f, with full
 * relative accuracy where it is small.
 *
 * Given: f (dimensionless, below 0 counts as 0); degrees of freedom of the upper and of the lower
 * variance, above 0. Returned: 0…1. Inverse: `fQuantile` of the rest to 1.
 */
export function fUpperTail(f: number, upperDegreesOfFreedom: number, lowerDegreesOfFreedom: number): number {
  checkDegreesOfFreedom(upperDegreesOfFreedom, lowerDegreesOfFreedom);
  return tails(f, upperDegreesOfFreedom, lowerDegreesOfFreedom).upper;
}

/**
 * The value F stays below with probability p.
 *
 * Given: p, above 0 and below 1; degrees of freedom of the upper and of the lower variance, above 0.
 * Returned: F. Errors: InternalError for any other p or degrees.
 * Reference: NIST-HANDBOOK, 1.3.6.7.3. Inverse: 1 − `fUpperTail`.
 */
export function fQuantile(p: number, upperDegreesOfFreedom: number, lowerDegreesOfFreedom: number): number {
  checkProbability(p);
  checkDegreesOfFreedom(upperDegreesOfFreedom, lowerDegreesOfFreedom);
  const lowerHalf = p <= 0.5;
  const wanted = Math.log(lowerHalf ? p : 1 - p);
  const y = solveIncreasing((logF) => {
    const { lower, upper, slope } = tails(Math.exp(logF), upperDegreesOfFreedom, lowerDegreesOfFreedom);
    return lowerHalf
      ? { value: Math.log(lower) - wanted, slope: slope / lower }
      : { value: wanted - Math.log(upper), slope: slope / upper };
  }, 0);
  return Math.exp(y);
}
