import { RADIANS_PER_ARCSECOND, RADIANS_PER_DEGREE, normaliseLongitudeDeg } from '../../numeric/angle-units.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { meridianRadiusM, primeVerticalRadiusM } from '../../ellipsoid/radii.js';

/** Parameters of EPSG method 1046. */
export interface VerticalSlope {
  /** Evaluation point, degrees, in the horizontal system of the method. */
  readonly originLatitudeDeg: number;
  readonly originLongitudeDeg: number;
  /** Vertical offset at the evaluation point, metres. */
  readonly offsetM: number;
  /** Inclination in the meridian: rise of target over source per unit northward, seconds of arc. */
  readonly inclinationLatitudeArcsec: number;
  /** Inclination in the prime vertical: rise per unit eastward, seconds of arc. */
  readonly inclinationLongitudeArcsec: number;
  /** Ellipsoid of the horizontal system. */
  readonly ellipsoid: Ellipsoid;
}

/**
 * Height correction of vertical offset and slope (EPSG method 1046) at many points.
 *
 * Given: parameters. Returned: a function of latitude and longitude (degrees, in the horizontal
 * system of the method) that gives H_target − H_source, metres:
 * A + i_φ ρ₀ (φ − φ₀) + i_λ ν₀ (λ − λ₀) cos φ. Add it to a source height; to reverse, subtract it
 * from a target height. Errors: none; a point half the world away gives a number and means nothing.
 * Reference: IOGP-373-7-2, EPSG method 1046.
 */
export function createVerticalOffsetAndSlope(
  slope: VerticalSlope,
): (latitudeDeg: number, longitudeDeg: number) => number {
  const perLatitudeDeg =
    slope.inclinationLatitudeArcsec *
    RADIANS_PER_ARCSECOND *
    meridianRadiusM(slope.ellipsoid, slope.originLatitudeDeg) *
    RADIANS_PER_DEGREE;
  const perLongitudeDeg =
    slope.inclinationLongitudeArcsec *
    RADIANS_PER_ARCSECOND *
    primeVerticalRadiusM(slope.ellipsoid, slope.originLatitudeDeg) *
    RADIANS_PER_DEGREE;
  return (latitudeDeg, longitudeDeg) =>
    slope.offsetM +
    perLatitudeDeg * (latitudeDeg - slope.originLatitudeDeg) +
    perLongitudeDeg *
      normaliseLongitudeDeg(longitudeDeg - slope.originLongitudeDeg) *
      Math.cos(latitudeDeg * RADIANS_PER_DEGREE);
}
