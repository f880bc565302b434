import { entryAt } from '../../../records/present.js';

/**
 * 95 % half-widths of the parameters of a fit. Given: their covariance, row by row; how many they are; the half-width of 95 % in
 * sigmas. Returned: that of the parameter at a place; null where sigmas are neither stated nor estimated.
 */
export function halfWidths95(
  covariance: readonly number[] | null,
  size: number,
  factor95: number | null,
): (at: number) => number | null {
  if (covariance === null || factor95 === null) return () => null;
  return (at) => factor95 * Math.sqrt(Math.max(0, entryAt(covariance, at * (size + 1))));
}
