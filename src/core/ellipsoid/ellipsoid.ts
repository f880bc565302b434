/** A reference ellipsoid of revolution. */
export interface Ellipsoid {
  readonly name: string;
  /** a, metres. */
  readonly semiMajorAxisM: number;
  /** f = (a − b) / a; 0 for a sphere. */
  readonly flattening: number;
  /** e² = f (2 − f). */
  readonly eccentricitySquared: number;
}

/**
 * An ellipsoid from its two defining numbers as the registry prints them.
 *
 * Given: name; semi-major axis a, metres; inverse flattening 1/f, where 0 and Infinity both mean a
 * sphere. The caller has checked that a > 0 and that 1/f > 1 or stands for a sphere.
 * Returned: the ellipsoid. Reference: IOGP-373-7-2, section on ellipsoid parameters.
 *
 * @example
 * ellipsoidFrom('GRS 1980', 6378137, 298.257222101).flattening; // 0.00335281068
 */
export function ellipsoidFrom(name: string, semiMajorAxisM: number, inverseFlattening: number): Ellipsoid {
  const flattening = inverseFlattening === 0 || inverseFlattening === Infinity ? 0 : 1 / inverseFlattening;
  return { name, semiMajorAxisM, flattening, eccentricitySquared: flattening * (2 - flattening) };
}

/** World Geodetic System 1984, EPSG 7030. */
export const WGS84: Ellipsoid = ellipsoidFrom('WGS 84', 6378137, 298.257223563);
/** Geodetic Reference System 1980, EPSG 7019. */
export const GRS80: Ellipsoid = ellipsoidFrom('GRS 1980', 6378137, 298.257222101);
/** Clarke 1880 (Arc), EPSG 7013. */
export const CLARKE_1880_ARC: Ellipsoid = ellipsoidFrom('Clarke 1880 (Arc)', 6378249.145, 293.4663077);
/** Bessel 1841, EPSG 7004. */
export const BESSEL_1841: Ellipsoid = ellipsoidFrom('Bessel 1841', 6377397.155, 299.1528128);
/** International 1924, EPSG 7022. */
export const INTERNATIONAL_1924: Ellipsoid = ellipsoidFrom('International 1924', 6378388, 297);
/** Airy 1830, EPSG 7001. */
export const AIRY_1830: Ellipsoid = ellipsoidFrom('Airy 1830', 6377563.396, 299.3249646);
/** Clarke 1866, EPSG 7008, defined by both semi-axes: a 6378206.4 m, b 6356583.8 m. */
export const CLARKE_1866: Ellipsoid = ellipsoidFrom('Clarke 1866', 6378206.4, 6378206.4 / (6378206.4 - 6356583.8));
