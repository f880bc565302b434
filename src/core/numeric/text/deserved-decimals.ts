/** Figures for people end at this part of their uncertainty. */
const PART = 10;

/**
 * Decimals that a figure deserves: its last digit is a tenth of its uncertainty or less, and not less than a hundredth.
 * Given: the uncertainty at 95 %, in the unit of the figure; null: not known. Returned: null where it is not known or not positive.
 *
 * @example
 * deservedDecimals(0.03); // 3
 * deservedDecimals(0.1); // 2
 * deservedDecimals(0.15); // 2
 */
export function deservedDecimals(uncertainty: number | null): number | null {
  if (uncertainty === null || !(uncertainty > 0)) return null;
  return Math.max(0, Math.ceil(-Math.log10(uncertainty / PART) - 1e-9));
}
