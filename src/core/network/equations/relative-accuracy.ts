import { localFrameAt } from '../../ellipsoid/local-frame.js';
import { geocentricToGeodetic } from '../../ellipsoid/geocentric.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { GeocentricPoint, LocalCovariance } from '../../../records/points/point.js';
import type { LocalFrame } from '../../ellipsoid/local-frame.js';
import { congruence3 } from '../../numeric/symmetric3.js';
import type { Matrix3, Symmetric3 } from '../../numeric/symmetric3.js';

/**
 * Covariance of the vector between two places whose covariances and common covariance are known: Q_ii + Q_jj − Q_ij − Q_ijᵀ.
 *
 * Given: Q_ii, Q_jj and Q_ij, m², geocentric, row by row; where the result goes. Returned: the same, m², row by row.
 */
export function relativeCovariance(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  between: ArrayLike<number>,
  relative: Float64Array = new Float64Array(9),
): Float64Array {
  for (let r = 0; r < 3; r += 1)
    for (let c = 0; c < 3; c += 1) {
      const at = 3 * r + c;
      relative[at] = first[at]! + second[at]! - between[at]! - between[3 * c + r]!;
    }
  return relative;
}

/** A geocentric covariance, m² row by row, in the local axes of a frame. Its inverse: `geocentricCovariance`. */
export function localCovarianceOf(covariance: ArrayLike<number>, frame: LocalFrame): LocalCovariance {
  const c = congruence3(axesOf(frame), {
    xx: covariance[0]!,
    xy: (covariance[1]! + covariance[3]!) / 2,
    xz: (covariance[2]! + covariance[6]!) / 2,
    yy: covariance[4]!,
    yz: (covariance[5]! + covariance[7]!) / 2,
    zz: covariance[8]!,
  });
  return { eeM2: c.xx, enM2: c.xy, euM2: c.xz, nnM2: c.yy, nuM2: c.yz, uuM2: c.zz };
}

/** A local covariance, m², in geocentric axes. Its inverse: `localCovarianceOf`. */
export function geocentricCovariance(local: LocalCovariance, frame: LocalFrame): Symmetric3 {
  const { xx, xy, xz, yx, yy, yz, zx, zy, zz } = axesOf(frame);
  const { eeM2, enM2, euM2, nnM2, nuM2, uuM2 } = local;
  return congruence3(
    { xx, xy: yx, xz: zx, yx: xy, yy, yz: zy, zx: xz, zy: yz, zz },
    { xx: eeM2, xy: enM2, xz: euM2, yy: nnM2, yz: nuM2, zz: uuM2 },
  );
}

/** The local frame at the middle of two places. */
export function frameBetween(a: GeocentricPoint, b: GeocentricPoint, ellipsoid: Ellipsoid): LocalFrame {
  const middle = { xM: (a.xM + b.xM) / 2, yM: (a.yM + b.yM) / 2, zM: (a.zM + b.zM) / 2 };
  const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(middle, ellipsoid);
  return localFrameAt(latitudeDeg, longitudeDeg);
}

/** East, north and up as the rows of the map that turns geocentric components into them. */
function axesOf({ sinLat, cosLat, sinLon, cosLon }: LocalFrame): Matrix3 {
  return {
    xx: -sinLon,
    xy: cosLon,
    xz: 0,
    yx: -sinLat * cosLon,
    yy: -sinLat * sinLon,
    yz: cosLat,
    zx: cosLat * cosLon,
    zy: cosLat * sinLon,
    zz: sinLat,
  };
}
