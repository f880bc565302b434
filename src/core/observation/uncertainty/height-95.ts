import { VERTICAL_95 } from './confidence-factors.js';

/**
 * 95 % of a height, of what has a height alone too, as a station of a levelling net.
 * Given: the figures of its place, null without one; one sigma of its height, metres, null: not known. Returned: metres; null: not known.
 */
export function height95M(summary: { readonly vertical95M: number } | null, sigmaUpM: number | null): number | null {
  if (summary !== null) return summary.vertical95M;
  return sigmaUpM === null ? null : VERTICAL_95 * sigmaUpM;
}
