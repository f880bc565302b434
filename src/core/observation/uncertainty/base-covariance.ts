import { rotateCovariance } from '../../ellipsoid/local-frame.js';
import type { LocalFrame } from '../../ellipsoid/local-frame.js';
import type { Draft } from '../../../records/draft.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { ZERO_COVARIANCE, diagonalCovariance } from './local-covariance.js';

/**
 * Covariance of the base coordinate, as it stands in every point measured from it.
 *
 * Given: one sigma per horizontal axis and in height at the base, metres, null: not stated, and then
 * nothing is added (the caller says so); the local frames at base and rover; a record to be filled.
 * Returned: covariance in the rover's frame, m². Averaging epochs does not reduce it.
 *
 * Reference: C' = R C Rᵀ with the rotation between the frames.
 */
export function baseCovariance(
  sigmaHorizontalM: number | null,
  sigmaVerticalM: number | null,
  frameAtBase: LocalFrame,
  frameAtRover: LocalFrame,
  turned?: Draft<LocalCovariance>,
): LocalCovariance {
  if (sigmaHorizontalM === null && sigmaVerticalM === null) return ZERO_COVARIANCE;
  // Stated in one axis only: the other is not judged to be uncertain.
  const horizontalM2 = (sigmaHorizontalM ?? 0) * (sigmaHorizontalM ?? 0);
  // Stated in one axis only: the other is not judged to be uncertain.
  const verticalM2 = (sigmaVerticalM ?? 0) * (sigmaVerticalM ?? 0);
  return rotateCovariance(
    frameAtBase,
    frameAtRover,
    diagonalCovariance(horizontalM2, horizontalM2, verticalM2),
    turned,
  );
}
