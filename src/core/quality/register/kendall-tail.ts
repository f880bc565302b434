/** Deviations from the mean beyond which a number of inversions is not followed: its chance is below 10⁻¹⁸. */
const FOLLOWED_SIGMAS = 9;

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
  const chances = new Float64Array((n * (n - 1)) / 2 + 1);
  chances[0] = 1;
  let from = 0;
  for (let i = 2; i <= n; i += 1) {
    const followed = followedOf(i);
    // Sums from the least on, then of each what lies in the i values up to it: both in place.
    for (let m = from + 1; m <= followed.to; m += 1) chances[m] = (chances[m] as number) + (chances[m - 1] as number);
    for (let m = followed.to; m >= followed.from; m -= 1) {
      const below = m < i ? 0 : (chances[m - i] as number);
      chances[m] = ((chances[m] as number) - below) / i;
    }
    chances.fill(0, from, followed.from);
    from = followed.from;
  }
  let total = 0;
  return chances.map((chance) => (total = Math.min(1, total + chance)));
}

/** Numbers of inversions of so many values whose chance counts; their mean is i(i − 1)/4, their variance i(i − 1)(2i + 5)/72. */
function followedOf(i: number): { readonly from: number; readonly to: number } {
  const pairs = i * (i - 1);
  const reach = FOLLOWED_SIGMAS * Math.sqrt((pairs * (2 * i + 5)) / 72);
  return {
    from: Math.max(0, Math.floor(pairs / 4 - reach)),
    to: Math.min(pairs / 2, Math.ceil(pairs / 4 + reach)),
  };
}
