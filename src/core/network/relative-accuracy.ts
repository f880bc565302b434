import { localFrameAt } from '../ellipsoid/local-frame.js';
import { geocentricToGeodetic } from '../ellipsoid/geocentric.js';
import type { Ellipsoid } from '../ellipsoid/ellipsoid.js';
import type { GeocentricPoint, LocalCovariance } from '../../records/points/point.js';
import type { LocalFrame } from '../ellipsoid/local-frame.js';

/**
 * Covariance of the vector between two places whose covariances and common covariance are known: Q_ii + Q_jj − Q_ij − Q_ijᵀ.
 *
 * Given: Q_ii, Q_jj and Q_ij, m², geocentric, row by row. Returned: the same, m², row by row.
 */
export function relativeCovariance(
  first: ArrayLike<number>,
  second: ArrayLike<number>,
  between: ArrayLike<number>,
): Float64Array {
  return Float64Array.from({ length: 9 }, (_, at) => {
    const transposed = (at % 3) * 3 + Math.floor(at / 3);
    return first[at]! + second[at]! - between[at]! - between[transposed]!;
  });
}

/** A geocentric covariance, m² row by row, in the local axes of a frame. Its inverse: `geocentricCovariance`. */
export function localCovarianceOf(covariance: ArrayLike<number>, frame: LocalFrame): LocalCovariance {
  const axes = axesOf(frame);
  const along = (a: readonly number[], b: readonly number[]): number => {
    let sum = 0;
    for (let i = 0; i < 3; i += 1) for (let j = 0; j < 3; j += 1) sum += a[i]! * covariance[i * 3 + j]! * b[j]!;
    return sum;
  };
  const [e, n, u] = axes;
  return {
    eeM2: along(e, e),
    enM2: along(e, n),
    euM2: along(e, u),
    nnM2: along(n, n),
    nuM2: along(n, u),
    uuM2: along(u, u),
  };
}

/** A local covariance, m², in geocentric axes, row by row. Its inverse: `localCovarianceOf`. */
export function geocentricCovariance(local: LocalCovariance, frame: LocalFrame): Float64Array {
  const axes = axesOf(frame);
  const c = [
    [local.eeM2, local.enM2, local.euM2],
    [local.enM2, local.nnM2, local.nuM2],
    [local.euM2, local.nuM2, local.uuM2],
  ];
  return Float64Array.from({ length: 9 }, (_, at) => {
    let sum = 0;
    for (let a = 0; a < 3; a += 1)
      for (let b = 0; b < 3; b += 1) sum += axes[a]![Math.floor(at / 3)]! * c[a]![b]! * axes[b]![at % 3]!;
    return sum;
  });
}

/** The local frame at the middle of two places. */
export function frameBetween(a: GeocentricPoint, b: GeocentricPoint, ellipsoid: Ellipsoid): LocalFrame {
  const middle = { xM: (a.xM + b.xM) / 2, yM: (a.yM + b.yM) / 2, zM: (a.zM + b.zM) / 2 };
  const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(middle, ellipsoid);
  return localFrameAt(latitudeDeg, longitudeDeg);
}

function axesOf({
  sinLat,
  cosLat,
  sinLon,
  cosLon,
}: LocalFrame): readonly [readonly number[], readonly number[], readonly number[]] {
  return [
    [-sinLon, cosLon, 0],
    [-sinLat * cosLon, -sinLat * sinLon, cosLat],
    [cosLat * cosLon, cosLat * sinLon, sinLat],
  ];
}
