import type { PositionalUncertainty } from '../../../core/observation/uncertainty/positional-uncertainty.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import {
  ANGLE,
  METRES,
  NUMBER,
  SMALL,
  VARIANCE,
  given,
  together,
  withDecimals,
  worked,
} from '../lines/worked-lines.js';

/** What is needed of a covariance with its geoid. */
export interface EllipseOf {
  readonly total: LocalCovariance;
  readonly geoidVarianceM2: number | null;
}

/** The 95 % figures from the covariance, number by number. */
export function ellipseLines(
  figures: PositionalUncertainty,
  { total, geoidVarianceM2 }: EllipseOf,
  hasGeoid: boolean,
): readonly string[] {
  const { eeM2, enM2, nnM2, uuM2 } = total;
  const centre = (eeM2 + nnM2) / 2;
  const radius = Math.hypot((nnM2 - eeM2) / 2, enM2);
  const [major, minor] = [centre + radius, Math.max(0, centre - radius)];
  if (major === 0) return [];
  return [
    together(given('C_EE', eeM2, VARIANCE), given('C_EN', enM2, VARIANCE), given('C_NN', nnM2, VARIANCE)),
    together(
      worked('λ₁', '(C_EE + C_NN) / 2 + √(((C_NN − C_EE) / 2)² + C_EN²)', major, withDecimals(VARIANCE, 2)),
      worked('λ₂', '(C_EE + C_NN) / 2 − √(((C_NN − C_EE) / 2)² + C_EN²)', minor, withDecimals(VARIANCE, 2)),
    ),
    worked('κ', '√(−2·ln(0.05))', Math.sqrt(-2 * Math.log(0.05)), withDecimals(NUMBER, 6)),
    together(
      worked('major', 'κ·√λ₁', figures.ellipseMajor95M, METRES),
      worked('minor', 'κ·√λ₂', figures.ellipseMinor95M, METRES),
    ),
    ...(radius === 0
      ? []
      : [
          worked(
            'direction',
            turn(figures.ellipseAzimuthDeg, enM2, nnM2 - eeM2),
            figures.ellipseAzimuthDeg,
            withDecimals(ANGLE, 1),
          ),
        ]),
    together(
      worked('K', 'circle95(√(λ₂ / λ₁))', figures.circle95M / Math.sqrt(major), withDecimals(NUMBER, 5)),
      worked('circle', 'K·√λ₁', figures.circle95M, METRES),
    ),
    together(
      given('σ_u', Math.sqrt(uuM2), SMALL),
      // Without a geoid, or its sigma, the figure is that of the ellipsoidal height.
      given('σ_N', hasGeoid ? Math.sqrt(geoidVarianceM2 ?? 0) : 0, SMALL),
      worked('vertical', '1.959964·√(σ_u² + σ_N²)', figures.vertical95M, METRES),
    ),
  ];
}

/** The arc tangent of the axis, in the half turn that azimuths are given in. */
function turn(azimuthDeg: number, covariance: number, difference: number): string {
  const raw = (Math.atan2(covariance, difference / 2) * 90) / Math.PI;
  const angle = 'atan2(C_EN, (C_NN − C_EE) / 2) / 2';
  return Math.abs(raw - azimuthDeg) > 90 ? `${angle} ${raw < azimuthDeg ? '+' : '−'} 180°` : angle;
}
