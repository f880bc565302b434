import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { eccentricity, isometricLatitude, latitudeOfIsometricRad } from './conformal-latitude.js';

/**
 * The ellipsoid mapped to a sphere that keeps angles and fits it best at one latitude (Gauss's second): isometric latitude on the
 * sphere = B ψ + C, longitude from the origin on the sphere = B Δλ.
 */
export interface ConformalSphere {
  /** B: ratio of longitudes. */
  readonly ratio: number;
  /** Latitude on the sphere of the latitude of origin, radians. */
  readonly originRad: number;
  /** Geometric mean of the radii of curvature at the origin, metres. */
  readonly radiusM: number;
  /** Given: geodetic latitude, radians, not a pole. Returned: isometric latitude on the sphere. Inverse: `latitudeRad`. */
  readonly isometric: (latitudeRad: number) => number;
  readonly latitudeRad: (isometric: number) => number;
}

/**
 * Given: the ellipsoid; the latitude of origin, radians, not a pole. Returned: the sphere.
 * Reference: IOGP-373-7-2, constants of methods 9819 (A, B, γ₀, t₀) and 9813 (B, φs, R, C).
 */
export function createConformalSphere(ellipsoid: Ellipsoid, latitudeOfOriginRad: number): ConformalSphere {
  const es = ellipsoid.eccentricitySquared;
  const e = eccentricity(ellipsoid);
  const sin = Math.sin(latitudeOfOriginRad);
  const ratio = Math.sqrt(1 + (es * Math.cos(latitudeOfOriginRad) ** 4) / (1 - es));
  const originRad = Math.asin(sin / ratio);
  const constant = Math.asinh(Math.tan(originRad)) - ratio * isometricLatitude(latitudeOfOriginRad, e);
  return {
    ratio,
    originRad,
    radiusM: (ellipsoid.semiMajorAxisM * Math.sqrt(1 - es)) / (1 - es * sin * sin),
    isometric: (latitudeRad) => ratio * isometricLatitude(latitudeRad, e) + constant,
    latitudeRad: (isometric) => latitudeOfIsometricRad((isometric - constant) / ratio, e),
  };
}
