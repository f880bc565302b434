import { DEGREES_PER_RADIAN } from '../numeric/angle-units.js';
import type { Draft } from '../../records/draft.js';
import type { GeocentricPoint, GeodeticPoint } from '../../records/points/point.js';
import { InternalError } from '../../records/internal-error.js';
import type { Ellipsoid } from './ellipsoid.js';
import { localFrameAt } from './local-frame.js';
import type { LocalFrame } from './local-frame.js';

/**
 * Geodetic position to geocentric.
 *
 * Given: latitude −90…90 and longitude, degrees, north and east positive; height above the
 * ellipsoid, metres; the ellipsoid. Returned: X, Y, Z, metres. At |latitude| = 90 X and Y are 0
 * whatever the longitude. Errors: none; the caller has checked the ranges.
 * Reference: IOGP-373-7-2, EPSG method 9602. Inverse: `geocentricToGeodetic`.
 *
 * @example
 * // GDA2020-TM, worked example, Flinders Peak
 * geodeticToGeocentric({ latitudeDeg: -37.951033417, longitudeDeg: 144.424867889, ellipsoidalHeightM: 350.948 }, GRS80); // { xM: -4096088.424, yM: 2929823.085, zM: -3901375.454 }
 */
export function geodeticToGeocentric(point: GeodeticPoint, ellipsoid: Ellipsoid): GeocentricPoint {
  return geocentricInFrame(localFrameAt(point.latitudeDeg, point.longitudeDeg), point.ellipsoidalHeightM, ellipsoid);
}

/** The same where the local frame of the position is known already; height above the ellipsoid, metres; a record to be filled. */
export function geocentricInFrame(
  frame: LocalFrame,
  ellipsoidalHeightM: number,
  ellipsoid: Ellipsoid,
  point: Draft<GeocentricPoint> = emptyGeocentric(),
): GeocentricPoint {
  const { sinLat, cosLat, sinLon, cosLon } = frame;
  const e2 = ellipsoid.eccentricitySquared;
  const nu = ellipsoid.semiMajorAxisM / Math.sqrt(1 - e2 * sinLat * sinLat);
  const p = (nu + ellipsoidalHeightM) * cosLat;
  point.xM = p * cosLon;
  point.yM = p * sinLon;
  point.zM = (nu * (1 - e2) + ellipsoidalHeightM) * sinLat;
  return point;
}

/** A position to be filled. */
export function emptyGeocentric(): Draft<GeocentricPoint> {
  return { xM: 0.5, yM: 0.5, zM: 0.5 };
}

/** A position to be filled. */
export function emptyGeodetic(): Draft<GeodeticPoint> {
  return { latitudeDeg: 0.5, longitudeDeg: 0.5, ellipsoidalHeightM: 0.5 };
}

/**
 * Geocentric position to geodetic.
 *
 * Given: X, Y, Z, metres; the ellipsoid; a record to be filled. Returned: latitude, longitude −180…180, degrees, and
 * height above the ellipsoid, metres.
 *
 * Method: the reduced latitude improved twice by Bowring's formula from the closed first guess;
 * height from the projection on the normal, which is good at every latitude.
 *
 * Notes.
 * 1. On the axis the longitude is not determined; 0 is returned.
 * 2. Closer to the centre than 1 % of the semi-major axis the latitude is not unique. The point is
 *    then taken as lying under the pole on its side of the equator: latitude ±90.
 * 3. On the 180th meridian the sign of the longitude follows the sign of Y.
 * 4. There and back agrees to 5 nm, which is what a double holds of 180°.
 *
 * Errors: InternalError when a coordinate is not finite (or beyond 10¹⁵⁰ m); the caller has checked.
 * Reference: IOGP-373-7-2, EPSG method 9602; BOWRING-1976. Inverse: `geodeticToGeocentric`.
 *
 * @example
 * // IOGP-373-7-2, method 9602, example
 * geocentricToGeodetic({ xM: 3771793.968, yM: 140253.342, zM: 5124304.349 }, WGS84).latitudeDeg; // 53.8093944
 */
export function geocentricToGeodetic(
  point: GeocentricPoint,
  ellipsoid: Ellipsoid,
  geodetic: Draft<GeodeticPoint> = emptyGeodetic(),
): GeodeticPoint {
  const a = ellipsoid.semiMajorAxisM;
  const f = ellipsoid.flattening;
  const e2 = ellipsoid.eccentricitySquared;
  const z = point.zM;
  const p = Math.sqrt(point.xM * point.xM + point.yM * point.yM);
  const r = Math.sqrt(p * p + z * z);
  if (!Number.isFinite(r)) throw new InternalError('a geocentric coordinate is not finite');
  const b = a * (1 - f);
  const longitudeDeg = p === 0 ? 0 : Math.atan2(point.yM, point.xM) * DEGREES_PER_RADIAN;
  if (r < 0.01 * a) {
    geodetic.latitudeDeg = z < 0 ? -90 : 90;
    geodetic.longitudeDeg = longitudeDeg;
    geodetic.ellipsoidalHeightM = Math.abs(z) - b;
    return geodetic;
  }
  const secondTimesB = (e2 / (1 - e2)) * b;
  // Tangent of the reduced latitude, kept as a sine and cosine so that the poles need no exception.
  let sine = z * (1 + secondTimesB / r) * (1 - f);
  let cosine = p;
  let length = Math.sqrt(sine * sine + cosine * cosine);
  let top = 0;
  let side = 1;
  for (let turn = 0; turn < 2; turn += 1) {
    const s = sine / length;
    const c = cosine / length;
    top = z + secondTimesB * s * s * s;
    side = p - e2 * a * c * c * c;
    sine = (1 - f) * top;
    cosine = side;
    length = Math.sqrt(sine * sine + cosine * cosine);
  }
  const norm = Math.sqrt(top * top + side * side);
  const sinPhi = top / norm;
  const cosPhi = side / norm;
  geodetic.latitudeDeg = Math.atan2(top, side) * DEGREES_PER_RADIAN;
  geodetic.longitudeDeg = longitudeDeg;
  geodetic.ellipsoidalHeightM = p * cosPhi + z * sinPhi - a * Math.sqrt(1 - e2 * sinPhi * sinPhi);
  return geodetic;
}
