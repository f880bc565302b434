import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import { primeVerticalRadiusM } from '../../../core/ellipsoid/radii.js';
import { DEGREES_PER_RADIAN, RADIANS_PER_DEGREE } from '../../../core/numeric/angle-units.js';
import type { GeocentricPoint, GeodeticPoint } from '../../../records/points/point.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { degrees, geocentricText, metres } from '../explain-text.js';
import {
  ANGLE,
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  NUMBER,
  SMALL_NUMBER,
  given,
  stated,
  together,
  withDecimals,
  worked,
} from '../lines/worked-lines.js';

/** Semi-major axis, inverse flattening F and eccentricity; a sphere has none. */
export function ellipsoidLines({ semiMajorAxisM, flattening, eccentricitySquared }: Ellipsoid): readonly string[] {
  const axis = stated('a', semiMajorAxisM, withDecimals(LENGTH, 6));
  if (flattening === 0) return [together(axis, 'F = ∞, a sphere')];
  return [
    together(
      axis,
      stated('F', 1 / flattening, withDecimals(NUMBER, 12)),
      worked('e', '√(2·F − 1) / F', Math.sqrt(eccentricitySquared), SMALL_NUMBER),
    ),
  ];
}

/** Latitude, longitude and ellipsoidal height to X, Y, Z. */
export function geocentricStep(
  title: string,
  from: GeodeticPoint,
  to: GeocentricPoint,
  ellipsoid: Ellipsoid,
): WorkingStep {
  const nu = primeVerticalRadiusM(ellipsoid, from.latitudeDeg);
  const es = ellipsoid.flattening === 0 ? '' : '·(1 − e²)';
  return {
    title,
    formula: 'X = (ν + h) cos φ cos λ,  Y = (ν + h) cos φ sin λ,  Z = (ν (1 − e²) + h) sin φ',
    substitution: [
      together(
        stated('φ', from.latitudeDeg, INPUT_ANGLE, 9),
        stated('λ', from.longitudeDeg, INPUT_ANGLE, 9),
        stated('h', from.ellipsoidalHeightM, INPUT, 4),
      ),
      ...ellipsoidLines(ellipsoid),
      worked('ν', ellipsoid.flattening === 0 ? 'a' : 'a / √(1 − e²·sin²φ)', nu, LENGTH),
      worked('X', '(ν + h)·cos φ·cos λ', to.xM, LENGTH),
      worked('Y', '(ν + h)·cos φ·sin λ', to.yM, LENGTH),
      worked('Z', `(ν${es} + h)·sin φ`, to.zM, LENGTH),
    ],
    result: [geocentricText(to)],
    source: 'IOGP-373-7-2, method 9602',
  };
}

/** X, Y, Z to latitude, longitude and ellipsoidal height: Bowring's formula, used twice from the closed first guess. */
export function geodeticStep(
  title: string,
  from: GeocentricPoint,
  to: GeodeticPoint,
  ellipsoid: Ellipsoid,
): WorkingStep {
  return {
    title,
    formula:
      'tan φ = (Z + e′² b sin³β) / (p − e² a cos³β), tan β = (1 − f) tan φ, from tan β₀ = (1 − f) (1 + e′² b / r) Z / p; repeated until φ stays',
    substitution: [
      together(given('X', from.xM, INPUT), given('Y', from.yM, INPUT), given('Z', from.zM, INPUT)),
      ...ellipsoidLines(ellipsoid),
      ...iterationLines(from, to, ellipsoid),
    ],
    result: [`φ ${degrees(to.latitudeDeg)}, λ ${degrees(to.longitudeDeg)}, h ${metres(to.ellipsoidalHeightM)}`],
    source: 'IOGP-373-7-2, method 9602; BOWRING-1976',
  };
}

function iterationLines(from: GeocentricPoint, to: GeodeticPoint, ellipsoid: Ellipsoid): readonly string[] {
  const { semiMajorAxisM: a, flattening: f, eccentricitySquared: es } = ellipsoid;
  const p = Math.hypot(from.xM, from.yM);
  const r = Math.hypot(p, from.zM);
  // Nearer the centre or the axis the program takes other ways, and no survey is there.
  if (r < 0.01 * a || p === 0) return [];
  const b = a * (1 - f);
  const second = (es / (1 - es)) * b;
  const lines: string[] = [
    worked('p', '√(X² + Y²)', p, LENGTH),
    worked('r', '√(p² + Z²)', r, LENGTH),
    worked('b', f === 0 ? 'a' : 'a·(F − 1) / F', b, LENGTH),
    worked('c', f === 0 ? '0·b' : 'e² / (1 − e²)·b', second, LENGTH),
  ];
  let beta = Math.atan2(from.zM * (1 + second / r) * (1 - f), p);
  lines.push(worked('β₀', 'atan(b / a·(1 + c / r)·Z / p)', beta * DEGREES_PER_RADIAN, ANGLE));
  for (const turn of ['₁', '₂'] as const) {
    const before = turn === '₁' ? '₀' : '₁';
    const top = from.zM + second * Math.sin(beta) ** 3;
    const side = p - es * a * Math.cos(beta) ** 3;
    const phi = Math.atan2(top, side);
    const minus = f === 0 ? '' : ` − e²·a·cos³β${before}`;
    lines.push(worked(`φ${turn}`, `atan((Z + c·sin³β${before}) / (p${minus}))`, phi * DEGREES_PER_RADIAN, ANGLE));
    beta = Math.atan2((1 - f) * top, side);
    if (turn === '₁') lines.push(worked('β₁', 'atan(b / a·tan φ₁)', beta * DEGREES_PER_RADIAN, ANGLE));
  }
  const sin = Math.sin(to.latitudeDeg * RADIANS_PER_DEGREE);
  const root = f === 0 ? 'a' : 'a·√(1 − e²·sin²φ)';
  return [
    ...lines,
    worked('φ', 'φ₂', to.latitudeDeg, ANGLE),
    worked('λ', 'atan2(Y, X)', to.longitudeDeg, ANGLE),
    worked(
      'h',
      `p·cos φ + Z·sin φ − ${root}`,
      p * Math.cos(to.latitudeDeg * RADIANS_PER_DEGREE) + from.zM * sin - a * Math.sqrt(1 - es * sin * sin),
      withDecimals(LENGTH, 6),
    ),
  ];
}
