import { RADIANS_PER_DEGREE } from '../../numeric/angle-units.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { diagonalCovariance } from './local-covariance.js';
import type { PoleGeometry } from '../pole-reduction.js';

/** One sigma of what is known of a pole; the names are those of the session's rover settings. */
export interface PoleSigmas {
  readonly poleSigmaM: number;
  /** Of an unmeasured lean, degrees, per axis. */
  readonly plumbSigmaDeg: number;
  readonly tiltSigmaDeg: number;
  readonly tiltAzimuthSigmaDeg: number;
}

/**
 * What a pole adds to the covariance of its tip, m².
 *
 * Plumb pole, no measured tilt: L·σ_plumb along east and north, σ_L up. Measured tilt θ towards α:
 * C = Σ J σ² Jᵀ with ∂/∂θ = L (cos θ sin α, cos θ cos α, −sin θ), ∂/∂α = L sin θ (cos α, −sin α, 0)
 * and ∂/∂L the unit vector along the pole.
 *
 * Given: pole and its sigmas. Returned: covariance in the local frame at the point, m².
 *
 * Notes:
 * 1. It belongs to the set-up, not to the epoch: averaging epochs does not reduce it.
 * 2. The sign of the azimuth convention drops out.
 * 3. A measured tilt of 0 without azimuth spreads σ_θ over both axes.
 *
 * Reference: first-order propagation of `reducePole`.
 */
export function poleCovariance(pole: PoleGeometry, sigmas: PoleSigmas): LocalCovariance {
  const { lengthM, tiltDeg, tiltAzimuthDeg } = pole;
  const lengthVariance = sigmas.poleSigmaM * sigmas.poleSigmaM;
  if (tiltDeg === null || tiltAzimuthDeg === null) {
    const leanSigmaDeg = tiltDeg === null ? sigmas.plumbSigmaDeg : sigmas.tiltSigmaDeg;
    const leanSigmaM = lengthM * leanSigmaDeg * RADIANS_PER_DEGREE;
    const leanVariance = leanSigmaM * leanSigmaM;
    return diagonalCovariance(leanVariance, leanVariance, lengthVariance);
  }
  const tilt = tiltDeg * RADIANS_PER_DEGREE;
  const azimuth = tiltAzimuthDeg * RADIANS_PER_DEGREE;
  const sinTilt = Math.sin(tilt);
  const cosTilt = Math.cos(tilt);
  const sinAz = Math.sin(azimuth);
  const cosAz = Math.cos(azimuth);
  const tiltSigmaM = lengthM * sigmas.tiltSigmaDeg * RADIANS_PER_DEGREE;
  const tangentSigmaM = lengthM * sinTilt * sigmas.tiltAzimuthSigmaDeg * RADIANS_PER_DEGREE;
  const tiltVariance = tiltSigmaM * tiltSigmaM;
  const tangentVariance = tangentSigmaM * tangentSigmaM;
  // Variances along the lean, across it, and the covariance of the lean with up.
  const radial = cosTilt * cosTilt * tiltVariance + sinTilt * sinTilt * lengthVariance;
  const radialUp = sinTilt * cosTilt * (lengthVariance - tiltVariance);
  return {
    eeM2: radial * sinAz * sinAz + tangentVariance * cosAz * cosAz,
    enM2: (radial - tangentVariance) * sinAz * cosAz,
    euM2: radialUp * sinAz,
    nnM2: radial * cosAz * cosAz + tangentVariance * sinAz * sinAz,
    nuM2: radialUp * cosAz,
    uuM2: sinTilt * sinTilt * tiltVariance + cosTilt * cosTilt * lengthVariance,
  };
}
