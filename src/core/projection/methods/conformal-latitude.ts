import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';

/**
 * Tangent of the geodetic latitude from that of the conformal latitude, by Newton's method: three
 * steps reach the last bit. Given: the tangent; e and e² of the ellipsoid.
 * Reference: KARNEY-2011, equations 19–21.
 */
export function geodeticTangent(conformalTangent: number, e: number, es: number): number {
  let tau = conformalTangent / (1 - es);
  for (let i = 0; i < 5; i += 1) {
    const sec = Math.sqrt(1 + tau * tau);
    const sigma = Math.sinh(e * Math.atanh((e * tau) / sec));
    const t = tau * Math.sqrt(1 + sigma * sigma) - sigma * sec;
    const step = ((conformalTangent - t) / Math.sqrt(1 + t * t)) * ((1 + (1 - es) * tau * tau) / ((1 - es) * sec));
    tau += step;
    if (!(Math.abs(step) > 1e-13 * Math.max(1, Math.abs(tau)))) break;
  }
  return tau;
}

/**
 * Isometric latitude: the northing of a Mercator map of unit radius. Given: geodetic latitude,
 * radians, not a pole (it is infinite there); the ellipsoid's e. Inverse: `latitudeOfIsometricRad`.
 * Reference: SNYDER-1395, equation 3-7.
 */
export function isometricLatitude(latitudeRad: number, e: number): number {
  return Math.asinh(Math.tan(latitudeRad)) - e * Math.atanh(e * Math.sin(latitudeRad));
}

/** Geodetic latitude, radians, of an isometric latitude; a pole where it is beyond all numbers. */
export function latitudeOfIsometricRad(isometric: number, e: number): number {
  const tangent = Math.sinh(isometric);
  if (!Number.isFinite(tangent * tangent)) return Math.sign(isometric) * (Math.PI / 2);
  return Math.atan(geodeticTangent(tangent, e, e * e));
}

/** Radius of the parallel over the semi-major axis: m in the books. */
export function parallelRadius(latitudeRad: number, es: number): number {
  const sin = Math.sin(latitudeRad);
  return Math.cos(latitudeRad) / Math.sqrt(1 - es * sin * sin);
}

/** Whether a latitude, radians, is a pole to the last bit. */
export function isPole(latitudeRad: number): boolean {
  return Math.abs(latitudeRad) >= Math.PI / 2;
}

/** An angle brought to −π…π. */
export function halfTurn(angleRad: number): number {
  if (angleRad > Math.PI) return angleRad - 2 * Math.PI;
  return angleRad < -Math.PI ? angleRad + 2 * Math.PI : angleRad;
}

/** First eccentricity. */
export function eccentricity(ellipsoid: Ellipsoid): number {
  return Math.sqrt(ellipsoid.eccentricitySquared);
}
