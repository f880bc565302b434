import type { GeocentricPoint, GeodeticPoint, LocalVector } from '../../../records/points/point.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../ellipsoid/geocentric.js';
import { geocentricToLocal, localFrameAt, localToGeocentric } from '../../ellipsoid/local-frame.js';

/** Topocentric coordinates about an origin: U to the east, V to the north, W up, metres. */
export interface Topocentric {
  readonly origin: GeocentricPoint;
  /** EPSG 9836, geocentric to topocentric. Inverse: `toGeocentric`. */
  readonly fromGeocentric: (point: GeocentricPoint) => LocalVector;
  /** EPSG 9836 reversed. Inverse: `fromGeocentric`. */
  readonly toGeocentric: (vector: LocalVector) => GeocentricPoint;
  /** EPSG 9837, geographic to topocentric. Inverse: `toGeodetic`. */
  readonly fromGeodetic: (point: GeodeticPoint) => LocalVector;
  /** EPSG 9837 reversed. Inverse: `fromGeodetic`. */
  readonly toGeodetic: (vector: LocalVector) => GeodeticPoint;
}

/**
 * Topocentric coordinates about a geocentric origin (EPSG method 9836). The axes stand on the
 * ellipsoid normal at the origin.
 *
 * Given: origin, X, Y, Z, metres; ellipsoid. Returned: the four conversions. Errors: none.
 * Reference: IOGP-373-7-2, EPSG method 9836.
 */
export function topocentricAtGeocentric(origin: GeocentricPoint, ellipsoid: Ellipsoid): Topocentric {
  const place = geocentricToGeodetic(origin, ellipsoid);
  const frame = localFrameAt(place.latitudeDeg, place.longitudeDeg);
  const fromGeocentric = (point: GeocentricPoint): LocalVector =>
    geocentricToLocal(frame, { xM: point.xM - origin.xM, yM: point.yM - origin.yM, zM: point.zM - origin.zM });
  const toGeocentric = (vector: LocalVector): GeocentricPoint => {
    const d = localToGeocentric(frame, vector);
    return { xM: origin.xM + d.xM, yM: origin.yM + d.yM, zM: origin.zM + d.zM };
  };
  return {
    origin,
    fromGeocentric,
    toGeocentric,
    fromGeodetic: (point) => fromGeocentric(geodeticToGeocentric(point, ellipsoid)),
    toGeodetic: (vector) => geocentricToGeodetic(toGeocentric(vector), ellipsoid),
  };
}

/**
 * Topocentric coordinates about a geodetic origin (EPSG method 9837).
 *
 * Given: origin, latitude and longitude in degrees, ellipsoidal height in metres; ellipsoid.
 * Returned: as `topocentricAtGeocentric`. Reference: IOGP-373-7-2, EPSG method 9837.
 */
export function topocentricAtGeodetic(origin: GeodeticPoint, ellipsoid: Ellipsoid): Topocentric {
  return topocentricAtGeocentric(geodeticToGeocentric(origin, ellipsoid), ellipsoid);
}
