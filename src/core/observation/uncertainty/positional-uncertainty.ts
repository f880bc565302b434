import type { Draft } from '../../../records/draft.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { exactCircleFactor95 } from './circle-factor.js';
import { HORIZONTAL_95, VERTICAL_95 } from './confidence-factors.js';

/** 95 % figures of a position, metres. */
export interface PositionalUncertainty {
  readonly ellipseMajor95M: number;
  readonly ellipseMinor95M: number;
  /** Azimuth of the major axis, degrees clockwise from north, 0 ≤ a < 180; 0 for a circle. */
  readonly ellipseAzimuthDeg: number;
  /** Radius about the point that holds the true position with 95 % probability. */
  readonly circle95M: number;
  /** Half-interval of the height. */
  readonly vertical95M: number;
}

/**
 * 95 % ellipse, circle and vertical figure of a covariance.
 *
 * λ₁,₂ = ½(σe² + σn²) ± √(¼(σe² − σn²)² + σen²); ellipse 2.4477·√λ; azimuth ½ atan2(2σen, σn² − σe²);
 * circle K(√(λ₂/λ₁))·√λ₁ with `exactCircleFactor95`; vertical 1.9600·√(σu² + σN²).
 *
 * Given: covariance, m²; variance of the geoid height, m², for an orthometric height, null: none is
 * added and the vertical figure is that of the ellipsoidal height; a record to be filled.
 *
 * Notes:
 * 1. The figures hold for normal errors with the covariance known, not estimated from few epochs.
 * 2. The larger 95 % axis is always a safe upper bound of the circle.
 *
 * Reference: FGDC-NSSDA, appendix 3-A for the factors; axes from the eigenvalues of the covariance.
 *
 * @example
 * // √(−2 ln 0.05) for a circle, and the 97.5 % point of the normal distribution.
 * const covariance = { eeM2: 1, enM2: 0, euM2: 0, nnM2: 1, nuM2: 0, uuM2: 1 };
 * positionalUncertainty(covariance, null).circle95M; // 2.4477
 * positionalUncertainty(covariance, null).vertical95M; // 1.9600
 */
export function positionalUncertainty(
  covariance: LocalCovariance,
  geoidVarianceM2: number | null,
  figures: Draft<PositionalUncertainty> = emptyFigures(),
): PositionalUncertainty {
  const { eeM2, enM2, nnM2, uuM2 } = covariance;
  const centre = 0.5 * (eeM2 + nnM2);
  const halfDifference = 0.5 * (nnM2 - eeM2);
  const radius = Math.sqrt(halfDifference * halfDifference + enM2 * enM2);
  const major = Math.sqrt(Math.max(0, centre + radius));
  const minor = Math.sqrt(Math.max(0, centre - radius));
  let azimuthDeg = radius === 0 ? 0 : (Math.atan2(enM2, halfDifference) * 90) / Math.PI;
  if (azimuthDeg < 0) azimuthDeg += 180;
  if (azimuthDeg >= 180) azimuthDeg = 0;
  figures.ellipseMajor95M = HORIZONTAL_95 * major;
  figures.ellipseMinor95M = HORIZONTAL_95 * minor;
  figures.ellipseAzimuthDeg = azimuthDeg;
  figures.circle95M = major === 0 ? 0 : exactCircleFactor95(minor / major) * major;
  // Without a geoid, or its sigma, the figure is that of the ellipsoidal height.
  figures.vertical95M = VERTICAL_95 * Math.sqrt(Math.max(0, uuM2 + (geoidVarianceM2 ?? 0)));
  return figures;
}

/** Figures to be filled. */
export function emptyFigures(): Draft<PositionalUncertainty> {
  return { ellipseMajor95M: 0.5, ellipseMinor95M: 0.5, ellipseAzimuthDeg: 0.5, circle95M: 0.5, vertical95M: 0.5 };
}
