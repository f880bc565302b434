import { InternalError } from '../../../records/internal-error.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { entryAt } from '../../../records/present.js';
import type { LocalFrame } from '../../ellipsoid/local-frame.js';
import { congruence3, inverse3 } from '../../numeric/symmetric3.js';
import type { Matrix3, Symmetric3 } from '../../numeric/symmetric3.js';
import { FIXED_SIGMA_M } from '../network.js';
import type { ControlPoint } from '../network.js';

const FIXED_VARIANCE_M2 = FIXED_SIGMA_M ** 2;
/** Of control without a covariance: it is held without error. */
const WITHOUT_ERROR: Symmetric3 = { xx: 0, xy: 0, xz: 0, yy: 0, yz: 0, zz: 0 };

/** The directions in which a control point holds, its rows of the design, what of each is up, and the weight. */
export function controlRows(
  point: ControlPoint,
  frame: LocalFrame,
): {
  readonly directions: readonly (readonly number[])[];
  readonly matrix: readonly number[];
  readonly up: readonly number[];
  readonly covariance: readonly number[];
  readonly weight: readonly number[];
} {
  const axes = [[-frame.sinLon, frame.cosLon, 0], northOf(frame), upOf(frame)];
  const { xx, xy, xz, yy, yz, zz } =
    point.covariance === null ? WITHOUT_ERROR : congruence3(turnInto(axes), point.covariance);
  const all = [
    [xx, xy, xz],
    [xy, yy, yz],
    // A height without a variance is held without error.
    [xz, yz, point.position === null ? (point.heightVarianceM2 ?? 0) : zz],
  ];
  const kept =
    point.position === null ? [2] : { fixed: [0, 1, 2], weighted: [0, 1, 2], plan: [0, 1], height: [2] }[point.held];
  const covariance = kept.flatMap((i) =>
    kept.map((j) => (point.held === 'fixed' ? 0 : entryAt(entryAt(all, i), j)) + (i === j ? FIXED_VARIANCE_M2 : 0)),
  );
  const directions = kept.map((axis) => entryAt(axes, axis));
  return {
    directions,
    matrix: directions.flat(),
    up: kept.map((axis) => (axis === 2 ? 1 : 0)),
    covariance,
    weight: inverseOfRows(covariance, kept.length),
  };
}

type Nine = readonly [number, number, number, number, number, number, number, number, number];

function inverseOfRows(covariance: readonly number[], size: number): readonly number[] {
  if (size === 1) return [1 / entryAt(covariance, 0)];
  if (size === 2) {
    const [xx, xy, , yy] = covariance as [number, number, number, number];
    const determinant = xx * yy - xy * xy;
    return [yy / determinant, -xy / determinant, -xy / determinant, xx / determinant];
  }
  const [xx, xy, xz, , yy, yz, , , zz] = covariance as Nine;
  return inverseOf({ xx, xy, xz, yy, yz, zz });
}

/** The inverse of a covariance, row by row. */
export function inverseOf(covariance: Symmetric3): readonly number[] {
  const w = inverse3(covariance);
  if (w === null) throw new InternalError('a covariance of an observation is singular');
  return [w.xx, w.xy, w.xz, w.xy, w.yy, w.yz, w.xz, w.yz, w.zz];
}

/** The part of a difference in a direction. */
export function along(direction: readonly number[], by: GeocentricPoint): number {
  return entryAt(direction, 0) * by.xM + entryAt(direction, 1) * by.yM + entryAt(direction, 2) * by.zM;
}

/** North of a frame, geocentric. */
export function northOf({ sinLat, cosLat, sinLon, cosLon }: LocalFrame): readonly number[] {
  return [-sinLat * cosLon, -sinLat * sinLon, cosLat];
}

/** Up of a frame, geocentric. */
export function upOf({ sinLat, cosLat, sinLon, cosLon }: LocalFrame): readonly number[] {
  return [cosLat * cosLon, cosLat * sinLon, sinLat];
}

/** Rows of three directions as the map that turns geocentric components into them. */
function turnInto(axes: readonly (readonly number[])[]): Matrix3 {
  const [e, n, u] = axes as [readonly number[], readonly number[], readonly number[]];
  return { xx: e[0]!, xy: e[1]!, xz: e[2]!, yx: n[0]!, yy: n[1]!, yz: n[2]!, zx: u[0]!, zy: u[1]!, zz: u[2]! };
}
