/**
 * Chance that a random order of n values, all different, has at most m inversions, for every m: the lower tail of
 * Kendall's S, whose value is n(n − 1)/2 − 2·inversions.
 *
 * Given: n, 1 or more. Returned: n(n − 1)/2 + 1 chances, by the number of inversions, never falling, the last 1.
 *
 * Note: exact but for rounding; the i-th value put into its place among the i − 1 before it makes 0 … i − 1 inversions,
 * each with the same chance.
 * Reference: SEN-1968.
 */
export function inversionTail(n: number): Float64Array {
  let chances = Float64Array.of(1);
  for (let i = 2; i <= n; i += 1) {
    const next = new Float64Array(chances.length + i - 1);
    let sum = 0;
    for (let m = 0; m < next.length; m += 1) {
      // No order has more inversions than there are pairs.
      sum += (chances[m] ?? 0) - (m >= i ? (chances[m - i] ?? 0) : 0);
      next[m] = Math.max(0, sum) / i;
    }
    chances = next;
  }
  let total = 0;
  return chances.map((chance) => (total = Math.min(1, total + chance)));
}
