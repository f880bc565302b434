import { incompleteGamma } from './incomplete-gamma.js';
import { checkProbability } from './probability.js';
import { solveIncreasing } from './solve-increasing.js';

/**
 * Probability that a standard normal value is below z; full relative accuracy in the lower tail
 * (for the upper tail ask for −z). Given: finite z. Returned: 0…1. Inverse: `normalQuantile`.
 */
export function normalCdf(z: number): number {
  const tails = incompleteGamma(0.5, (z * z) / 2);
  return z < 0 ? tails.upper / 2 : 0.5 + tails.lower / 2;
}

/**
 * The value a standard normal stays below with probability p.
 *
 * Given: p, above 0 and below 1. Returned: z. Errors: InternalError for any other p.
 * Reference: NIST-HANDBOOK, 1.3.6.7.1. Inverse: `normalCdf`.
 */
export function normalQuantile(p: number): number {
  checkProbability(p);
  if (p === 0.5) return 0;
  const tail = Math.min(p, 1 - p);
  const wanted = Math.log(tail);
  const z = solveIncreasing(
    (y) => {
      const upper = normalCdf(-y);
      return { value: wanted - Math.log(upper), slope: Math.exp((-y * y) / 2) / (upper * Math.sqrt(2 * Math.PI)) };
    },
    Math.max(0, Math.sqrt(-2 * wanted) - 1),
    0,
  );
  return p < 0.5 ? -z : z;
}
