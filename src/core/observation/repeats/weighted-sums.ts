import type { Draft } from '../../../records/draft.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { congruence3 } from '../../numeric/symmetric3.js';
import type { Matrix3 } from '../../numeric/symmetric3.js';

/** A weight of nothing. */
export const NO_WEIGHT: Matrix3 = { xx: 0, xy: 0, xz: 0, yx: 0, yy: 0, yz: 0, zx: 0, zy: 0, zz: 0 };

/** Adds what a covariance becomes under a weight. */
export function addThrough(sum: Draft<LocalCovariance>, weight: Matrix3, covariance: LocalCovariance): void {
  const { eeM2, enM2, euM2, nnM2, nuM2, uuM2 } = covariance;
  const { xx, xy, xz, yy, yz, zz } = congruence3(weight, {
    xx: eeM2,
    xy: enM2,
    xz: euM2,
    yy: nnM2,
    yz: nuM2,
    zz: uuM2,
  });
  sum.eeM2 += xx;
  sum.enM2 += xy;
  sum.euM2 += xz;
  sum.nnM2 += yy;
  sum.nuM2 += yz;
  sum.uuM2 += zz;
}

/** Adds a covariance. */
export function addCovariance(
  sum: Draft<LocalCovariance>,
  { eeM2, enM2, euM2, nnM2, nuM2, uuM2 }: LocalCovariance,
): void {
  sum.eeM2 += eeM2;
  sum.enM2 += enM2;
  sum.euM2 += euM2;
  sum.nnM2 += nnM2;
  sum.nuM2 += nuM2;
  sum.uuM2 += uuM2;
}

/** Adds a weight. */
export function addWeight(sum: Draft<Matrix3>, { xx, xy, xz, yx, yy, yz, zx, zy, zz }: Matrix3): void {
  sum.xx += xx;
  sum.xy += xy;
  sum.xz += xz;
  sum.yx += yx;
  sum.yy += yy;
  sum.yz += yz;
  sum.zx += zx;
  sum.zy += zy;
  sum.zz += zz;
}
