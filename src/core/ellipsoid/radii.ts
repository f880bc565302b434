import { RADIANS_PER_DEGREE } from '../numeric/angle-units.js';
import type { Ellipsoid } from './ellipsoid.js';

/**
 * Radius of curvature in the meridian, ρ = a(1 − e²) / (1 − e² sin²φ)^1.5.
 *
 * Given: ellipsoid; latitude, degrees. Returned: metres. Reference: GDA2020-TM, section on radii.
 */
export function meridianRadiusM(ellipsoid: Ellipsoid, latitudeDeg: number): number {
  const s = Math.sin(latitudeDeg * RADIANS_PER_DEGREE);
  const w2 = 1 - ellipsoid.eccentricitySquared * s * s;
  return (ellipsoid.semiMajorAxisM * (1 - ellipsoid.eccentricitySquared)) / (w2 * Math.sqrt(w2));
}

/**
 * Radius of curvature in the prime vertical, ν = a / √(1 − e² sin²φ).
 *
 * Given: ellipsoid; latitude, degrees. Returned: metres. Reference: GDA2020-TM, section on radii.
 */
export function primeVerticalRadiusM(ellipsoid: Ellipsoid, latitudeDeg: number): number {
  const s = Math.sin(latitudeDeg * RADIANS_PER_DEGREE);
  return ellipsoid.semiMajorAxisM / Math.sqrt(1 - ellipsoid.eccentricitySquared * s * s);
}

/**
 * Gauss's mean radius of curvature, √(ρν).
 *
 * Given: ellipsoid; latitude, degrees. Returned: metres.
 *
 * @example
 * // √(M N) is b at the equator, where M = b²/a and N = a.
 * gaussRadiusM(GRS80, 0); // 6356752.314
 */
export function gaussRadiusM(ellipsoid: Ellipsoid, latitudeDeg: number): number {
  const s = Math.sin(latitudeDeg * RADIANS_PER_DEGREE);
  const e2 = ellipsoid.eccentricitySquared;
  return (ellipsoid.semiMajorAxisM * Math.sqrt(1 - e2)) / (1 - e2 * s * s);
}

/**
 * Radius of curvature of the normal section in a direction (Euler): ρν / (ρ sin²α + ν cos²α).
 *
 * Given: ellipsoid; latitude, degrees; azimuth of the section, degrees from true north; its sense
 * does not matter. Returned: metres; ρ at azimuth 0, ν at 90.
 */
export function eulerRadiusM(ellipsoid: Ellipsoid, latitudeDeg: number, azimuthDeg: number): number {
  const rho = meridianRadiusM(ellipsoid, latitudeDeg);
  const nu = primeVerticalRadiusM(ellipsoid, latitudeDeg);
  const sinAlpha = Math.sin(azimuthDeg * RADIANS_PER_DEGREE);
  const cosAlpha = Math.cos(azimuthDeg * RADIANS_PER_DEGREE);
  return (rho * nu) / (rho * sinAlpha * sinAlpha + nu * cosAlpha * cosAlpha);
}
