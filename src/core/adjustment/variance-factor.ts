import { chiSquareQuantile } from '../numeric/chi-square.js';
import { normalQuantile } from '../numeric/normal-quantile.js';
import { studentTQuantile } from '../numeric/student-t.js';
import type { Adjustment } from './adjust-observations.js';

/** How far the residuals bear out the stated sigmas, and what the covariance is multiplied by. */
export interface VarianceFactor {
  /** vᵀPv / redundancy; null without redundancy. */
  readonly estimate: number | null;
  /** The estimate should stay below this in 95 of 100 cases when the stated sigmas are right; null without redundancy. */
  readonly limit95: number | null;
  /** True where sigmas were stated and the residuals are too large for them. */
  readonly isExceeded: boolean;
  /**
   * The cofactor times this is the covariance: 1 where stated sigmas hold or nothing can be estimated,
   * else the estimate.
   */
  readonly applied: number;
  /** Half-width of a 95 % interval in sigmas of `applied`: 1.96, or Student's t where the factor is estimated; null where sigmas are neither stated nor estimated. */
  readonly factor95: number | null;
}

/**
 * Test of the variance factor of an adjustment.
 *
 * Given: the adjustment; whether sigmas were stated (else weights are relative only).
 * Returned: as the record says. Reference: BAARDA-1968 (test on the variance factor); NIST-HANDBOOK, 1.3.6.7.
 */
export function varianceFactor(adjustment: Adjustment, sigmasAreStated: boolean): VarianceFactor {
  const { redundancy, weightedSquares } = adjustment;
  const normal = normalQuantile(0.975);
  if (redundancy < 1) return { estimate: null, limit95: null, isExceeded: false, applied: 1, factor95: sigmasAreStated ? normal : null };
  const estimate = weightedSquares / redundancy;
  const limit95 = chiSquareQuantile(0.95, redundancy) / redundancy;
  const isExceeded = sigmasAreStated && estimate > limit95;
  const isEstimated = !sigmasAreStated || isExceeded;
  return { estimate, limit95, isExceeded, applied: isEstimated ? estimate : 1, factor95: isEstimated ? studentTQuantile(0.975, redundancy) : normal };
}
