import { RADIANS_PER_DEGREE } from '../numeric/angle-units.js';
import type { Draft } from '../../records/draft.js';
import type { GeocentricPoint, LocalCovariance, LocalVector } from '../../records/points/point.js';

/** Directions of east, north and up at a place, held as sines and cosines of its position. */
export interface LocalFrame {
  readonly sinLat: number;
  readonly cosLat: number;
  readonly sinLon: number;
  readonly cosLon: number;
}

/**
 * The local frame on the ellipsoid normal.
 *
 * Given: latitude and longitude, degrees, north and east positive. Returned: the frame. At a pole
 * east and north follow the longitude given, and the cosine of the latitude is 0. `frame`: a record to be filled.
 *
 * @example
 * // Where the equator meets the zero meridian up is X, east is Y and north is Z.
 * geocentricToLocal(localFrameAt(0, 0), { xM: 1, yM: 2, zM: 3 }); // { eastM: 2, northM: 3, upM: 1 }
 */
export function localFrameAt(
  latitudeDeg: number,
  longitudeDeg: number,
  frame: Draft<LocalFrame> = emptyFrame(),
): LocalFrame {
  const phi = latitudeDeg * RADIANS_PER_DEGREE;
  const lambda = longitudeDeg * RADIANS_PER_DEGREE;
  const isPole = latitudeDeg === 90 || latitudeDeg === -90;
  frame.sinLat = Math.sin(phi);
  frame.cosLat = isPole ? 0 : Math.cos(phi);
  frame.sinLon = Math.sin(lambda);
  frame.cosLon = Math.cos(lambda);
  return frame;
}

/** A frame to be filled. Its numbers have a part of one, so that the engine keeps them as such. */
export function emptyFrame(): Draft<LocalFrame> {
  return { sinLat: 0.5, cosLat: 0.5, sinLon: 0.5, cosLon: 0.5 };
}

/**
 * A local vector as a difference of geocentric coordinates.
 *
 * Given: frame; east, north, up, metres. Returned: ΔX, ΔY, ΔZ, metres (a difference, not a place).
 * Reference: IOGP-373-7-2, EPSG method 9836, reversed. Inverse: `geocentricToLocal`.
 *
 * @example
 * localToGeocentric(localFrameAt(0, 0), { eastM: 2, northM: 3, upM: 1 }); // { xM: 1, yM: 2, zM: 3 }
 */
export function localToGeocentric(frame: LocalFrame, vector: LocalVector): GeocentricPoint {
  const { sinLat, cosLat, sinLon, cosLon } = frame;
  const { eastM: e, northM: n, upM: u } = vector;
  const outward = cosLat * u - sinLat * n;
  return {
    xM: cosLon * outward - sinLon * e,
    yM: sinLon * outward + cosLon * e,
    zM: sinLat * u + cosLat * n,
  };
}

/**
 * A difference of geocentric coordinates as a local vector.
 *
 * Given: frame; ΔX, ΔY, ΔZ, metres. Returned: east, north, up, metres.
 * Reference: IOGP-373-7-2, EPSG method 9836. Inverse: `localToGeocentric`.
 *
 * @example
 * // At the north pole, looking along the meridian of 0, east is Y and up is Z.
 * geocentricToLocal(localFrameAt(90, 0), { xM: 1, yM: 2, zM: 3 }); // { eastM: 2, northM: -1, upM: 3 }
 */
export function geocentricToLocal(frame: LocalFrame, difference: GeocentricPoint): LocalVector {
  const { sinLat, cosLat, sinLon, cosLon } = frame;
  const outward = cosLon * difference.xM + sinLon * difference.yM;
  return {
    eastM: cosLon * difference.yM - sinLon * difference.xM,
    northM: cosLat * difference.zM - sinLat * outward,
    upM: cosLat * outward + sinLat * difference.zM,
  };
}

/**
 * A covariance given in one place's frame, in the frame of another place.
 *
 * Given: the two frames; the covariance in `from`, m²; a record to be filled. Returned: the same covariance in `to`, m².
 * Its trace is unchanged. Inverse: the same function with the frames exchanged.
 * Method: C' = R C Rᵀ, where R turns components in `from` into components in `to`.
 */
export function rotateCovariance(
  from: LocalFrame,
  to: LocalFrame,
  covariance: LocalCovariance,
  turned: Draft<LocalCovariance> = emptyCovariance(),
): LocalCovariance {
  const sinTurn = to.sinLon * from.cosLon - to.cosLon * from.sinLon;
  const cosTurn = to.cosLon * from.cosLon + to.sinLon * from.sinLon;
  const ee = cosTurn;
  const en = from.sinLat * sinTurn;
  const eu = -from.cosLat * sinTurn;
  const ne = -to.sinLat * sinTurn;
  const nn = to.cosLat * from.cosLat + to.sinLat * from.sinLat * cosTurn;
  const nu = to.cosLat * from.sinLat - to.sinLat * from.cosLat * cosTurn;
  const ue = to.cosLat * sinTurn;
  const un = to.sinLat * from.cosLat - to.cosLat * from.sinLat * cosTurn;
  const uu = to.sinLat * from.sinLat + to.cosLat * from.cosLat * cosTurn;
  const { eeM2, enM2, euM2, nnM2, nuM2, uuM2 } = covariance;
  // Rows of R C.
  const e1 = ee * eeM2 + en * enM2 + eu * euM2;
  const e2 = ee * enM2 + en * nnM2 + eu * nuM2;
  const e3 = ee * euM2 + en * nuM2 + eu * uuM2;
  const n1 = ne * eeM2 + nn * enM2 + nu * euM2;
  const n2 = ne * enM2 + nn * nnM2 + nu * nuM2;
  const n3 = ne * euM2 + nn * nuM2 + nu * uuM2;
  const u1 = ue * eeM2 + un * enM2 + uu * euM2;
  const u2 = ue * enM2 + un * nnM2 + uu * nuM2;
  const u3 = ue * euM2 + un * nuM2 + uu * uuM2;
  turned.eeM2 = e1 * ee + e2 * en + e3 * eu;
  turned.enM2 = e1 * ne + e2 * nn + e3 * nu;
  turned.euM2 = e1 * ue + e2 * un + e3 * uu;
  turned.nnM2 = n1 * ne + n2 * nn + n3 * nu;
  turned.nuM2 = n1 * ue + n2 * un + n3 * uu;
  turned.uuM2 = u1 * ue + u2 * un + u3 * uu;
  return turned;
}

/** A covariance to be filled. */
export function emptyCovariance(): Draft<LocalCovariance> {
  return { eeM2: 0.5, enM2: 0.5, euM2: 0.5, nnM2: 0.5, nuM2: 0.5, uuM2: 0.5 };
}
