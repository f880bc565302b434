import { chiSquareQuantile } from '../numeric/distributions/chi-square.js';
import { normalQuantile } from '../numeric/distributions/normal-quantile.js';
import { studentTQuantile } from '../numeric/distributions/student-t.js';
import type { Adjustment } from './adjust-observations.js';

/** Coordinates of a survey are not recorded, nor marks met, to less than this, one sigma in metres; common practice, no published source. */
export const RECORDING_SIGMA_M = 0.0005;
/** The usual level of a test of the variance factor that stands alone. */
const ALONE = 0.05;

/** How far the residuals bear out the stated sigmas, and what the covariance is multiplied by. */
export interface VarianceFactor {
  /** vᵀPv / redundancy; null without redundancy. */
  readonly estimate: number | null;
  /** The estimate should stay below this when the stated sigmas are right, but for the level tested at; null without redundancy. */
  readonly limit: number | null;
  /** True where sigmas were stated and the residuals are too large for them. */
  readonly isExceeded: boolean;
  /** True where no sigma was stated and the residuals are smaller than coordinates are recorded to. */
  readonly isFloored: boolean;
  /**
   * The cofactor times this is the covariance: 1 where stated sigmas hold or nothing can be estimated, else the estimate,
   * and never less than RECORDING_SIGMA_M² where it is estimated.
   */
  readonly applied: number;
  /** Half-width of a 95 % interval in sigmas of `applied`: 1.96, or Student's t where the factor is estimated; null where sigmas are neither stated nor estimated. */
  readonly factor95: number | null;
}

/**
 * Test of the variance factor of an adjustment.
 *
 * Given: the adjustment; whether sigmas were stated (else weights are 1/m² and relative only); the chance of a false alarm.
 * Returned: as the record says. Reference: BAARDA-1968 (test on the variance factor); NIST-HANDBOOK, 1.3.6.7.
 */
export function varianceFactor(
  adjustment: Pick<Adjustment, 'redundancy' | 'weightedSquares'>,
  sigmasAreStated: boolean,
  level: number = ALONE,
): VarianceFactor {
  const { redundancy, weightedSquares } = adjustment;
  const normal = normalQuantile(0.975);
  if (redundancy < 1)
    return {
      estimate: null,
      limit: null,
      isExceeded: false,
      isFloored: false,
      applied: 1,
      factor95: sigmasAreStated ? normal : null,
    };
  const estimate = weightedSquares / redundancy;
  const limit = chiSquareQuantile(1 - level, redundancy) / redundancy;
  const isExceeded = sigmasAreStated && estimate > limit;
  const isFloored = !sigmasAreStated && estimate < RECORDING_SIGMA_M ** 2;
  if (isFloored) return { estimate, limit, isExceeded, isFloored, applied: RECORDING_SIGMA_M ** 2, factor95: normal };
  const isEstimated = !sigmasAreStated || isExceeded;
  return {
    estimate,
    limit,
    isExceeded,
    isFloored,
    applied: isEstimated ? estimate : 1,
    factor95: isEstimated ? studentTQuantile(0.975, redundancy) : normal,
  };
}
