import { incompleteGamma } from './incomplete-gamma.js';
import { normalQuantile } from './normal-quantile.js';
import { checkDegreesOfFreedom, checkProbability } from './probability.js';
import { solveIncreasing } from './solve-increasing.js';

/**
 * Probability that χ² with some degrees of freedom is above x, with full relative accuracy where it is small.
 *
 * Given: x (dimensionless, below 0 counts as 0); degrees of freedom, above 0, not necessarily
 * whole. Returned: 0…1. Inverse: `chiSquareQuantile` of the rest to 1.
 */
export function chiSquareUpperTail(x: number, degreesOfFreedom: number): number {
  checkDegreesOfFreedom(degreesOfFreedom);
  return incompleteGamma(degreesOfFreedom / 2, x / 2).upper;
}

/**
 * The value χ² stays below with probability p.
 *
 * Given: p, above 0 and below 1; degrees of freedom, above 0. Returned: χ².
 * Errors: InternalError for any other p or degrees. Reference: NIST-HANDBOOK, 1.3.6.7.4.
 * Inverse: 1 − `chiSquareUpperTail`.
 */
export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  checkProbability(p);
  checkDegreesOfFreedom(degreesOfFreedom);
  const lowerHalf = p <= 0.5;
  const wanted = Math.log(lowerHalf ? p : 1 - p);
  // The cube root of χ² is nearly normal (Wilson and Hilferty): a start, not the answer.
  const spread = 2 / (9 * degreesOfFreedom);
  const root = Math.max(0.05, 1 - spread + normalQuantile(p) * Math.sqrt(spread));
  const y = solveIncreasing(
    (logX) => {
      const { lower, upper, slope } = incompleteGamma(degreesOfFreedom / 2, Math.exp(logX) / 2);
      return lowerHalf
        ? { value: Math.log(lower) - wanted, slope: slope / lower }
        : { value: wanted - Math.log(upper), slope: slope / upper };
    },
    Math.log(degreesOfFreedom) + 3 * Math.log(root),
  );
  return Math.exp(y);
}
