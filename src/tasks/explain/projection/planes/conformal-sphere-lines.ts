import type { Ellipsoid } from '../../../../core/ellipsoid/ellipsoid.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { eccentricity, isometricLatitude } from '../../../../core/projection/methods/conformal-latitude.js';
import { ANGLE, LENGTH, NUMBER14, together, worked } from '../../lines/worked-lines.js';
import { isometric } from '../grid-lines.js';

const degrees = (radians: number): number => radians * DEGREES_PER_RADIAN;

/** The conformal sphere that osculates the ellipsoid at the origin of a grid, and a place on it. */
export interface ConformalSphere {
  readonly radiusM: number;
  /** Longitudes of the sphere over those of the ellipsoid. */
  readonly ratio: number;
  /** Latitude of the origin on the sphere, radians. */
  readonly originRad: number;
  /** Latitude of the place on the sphere, radians. */
  readonly latitudeRad: number;
  /** The sphere, worked. */
  readonly sphere: readonly string[];
  /** The latitude of the place, worked. */
  readonly place: readonly string[];
}

/**
 * Given: the ellipsoid; latitudes of the origin and of the place, degrees; the names of the ratio and of the latitude on the sphere.
 * Reference: IOGP-373-7-2, methods 9815 and 9819.
 */
export function conformalSphere(
  ellipsoid: Ellipsoid,
  originDeg: number,
  latitudeDeg: number,
  { ratio: B, latitude: b }: { readonly ratio: string; readonly latitude: string },
): ConformalSphere {
  const spherical = ellipsoid.flattening === 0;
  const [e, es, a] = [eccentricity(ellipsoid), ellipsoid.eccentricitySquared, ellipsoid.semiMajorAxisM];
  const origin = degreesToRadians(originDeg);
  const radiusM = (a * Math.sqrt(1 - es)) / (1 - es * Math.sin(origin) ** 2);
  const ratio = Math.sqrt(1 + (es * Math.cos(origin) ** 4) / (1 - es));
  const originRad = Math.asin(Math.sin(origin) / ratio);
  const constant = Math.atanh(Math.sin(originRad)) - ratio * isometricLatitude(origin, e);
  const s = ratio * isometricLatitude(degreesToRadians(latitudeDeg), e) + constant;
  const latitudeRad = Math.asin(Math.tanh(s));
  return {
    radiusM,
    ratio,
    originRad,
    latitudeRad,
    sphere: [
      together(
        worked('R', spherical ? 'a' : 'a·√(1 − e²) / (1 − e²·sin²φ₀)', radiusM, LENGTH),
        spherical ? `${B} = 1` : worked(B, '√(1 + e²·cos⁴φ₀ / (1 − e²))', ratio, NUMBER14),
      ),
      worked('b₀', `asin(sin φ₀ / ${B})`, degrees(originRad), ANGLE),
      worked('K', `atanh(sin b₀) − ${B}·(${isometric('φ₀', spherical)})`, constant, NUMBER14),
    ],
    place: [
      worked('S', `${B}·(${isometric('φ', spherical)}) + K`, s, NUMBER14),
      worked(b, 'atan(sinh(S))', degrees(latitudeRad), ANGLE),
    ],
  };
}
