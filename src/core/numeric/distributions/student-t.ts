import type { Tails } from './incomplete-gamma.js';
import { incompleteBeta } from './incomplete-beta.js';
import { checkDegreesOfFreedom, checkProbability } from './probability.js';
import { solveIncreasing } from './solve-increasing.js';

/** Tails of ν/(ν + t²): `lower` is the probability of |T| above |t|. */
function tails(t: number, degreesOfFreedom: number): Tails {
  const size = Math.abs(t) / Math.sqrt(degreesOfFreedom);
  // 1/(1 + s²) and s²/(1 + s²), each without loss for large and small s.
  const root = Math.hypot(1, size);
  const cosine = 1 / root;
  const sine = size / root;
  return incompleteBeta(degreesOfFreedom / 2, 0.5, cosine * cosine, sine * sine);
}

/**
 * Probability that Student's T is below t; full relative accuracy in the lower tail.
 *
 * Given: t (dimensionless); degrees of freedom, above 0. Returned: 0…1. Inverse: `studentTQuantile`.
 */
export function studentTCdf(t: number, degreesOfFreedom: number): number {
  checkDegreesOfFreedom(degreesOfFreedom);
  const both = tails(t, degreesOfFreedom);
  return t < 0 ? both.lower / 2 : 0.5 + both.upper / 2;
}

/**
 * The value Student's T stays below with probability p; for a two-sided test at 5 % ask for 0.975.
 *
 * Given: p, above 0 and below 1; degrees of freedom, above 0. Returned: t.
 * Errors: InternalError for any other p or degrees. Reference: NIST-HANDBOOK, 1.3.6.7.2.
 * Inverse: `studentTCdf`.
 */
export function studentTQuantile(p: number, degreesOfFreedom: number): number {
  checkProbability(p);
  checkDegreesOfFreedom(degreesOfFreedom);
  if (p === 0.5) return 0;
  const wanted = Math.log(Math.min(p, 1 - p));
  // The tail falls like a normal's near 0 and like a power of t far out; sinh serves both.
  const y = solveIncreasing(
    (u) => {
      const t = Math.sinh(u);
      const { lower, slope } = tails(t, degreesOfFreedom);
      const upperTail = lower / 2;
      return { value: wanted - Math.log(upperTail), slope: (slope / t) * (Math.cosh(u) / upperTail) };
    },
    1,
    0,
  );
  const t = Math.sinh(y);
  return p < 0.5 ? -t : t;
}
