import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { LocalCovariance } from '../../records/points/point.js';

/** Metres, four decimals. */
export const metres = (value: number): string => `${formatFixed(value, 4)} m`;

/** Millimetres, one decimal. */
export const millimetres = (value: number): string => `${formatFixed(value * 1000, 1)} mm`;

/** Degrees, nine decimals. */
export const degrees = (value: number): string => `${formatFixed(value, 9)}°`;

/** One sigma of each axis of a covariance, millimetres. */
export function sigmas(covariance: LocalCovariance): string {
  const { eeM2, nnM2, uuM2 } = covariance;
  return `east ${millimetres(Math.sqrt(Math.max(0, eeM2)))}, north ${millimetres(Math.sqrt(Math.max(0, nnM2)))}, up ${millimetres(Math.sqrt(Math.max(0, uuM2)))}`;
}

/** Geocentric components on one line. */
export function geocentricText(point: { readonly xM: number; readonly yM: number; readonly zM: number }): string {
  return `X ${metres(point.xM)}, Y ${metres(point.yM)}, Z ${metres(point.zM)}`;
}
