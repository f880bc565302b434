/**
 * A sum that does not lose the small terms beside the large ones (Neumaier's form of Kahan's
 * compensated summation). Use it wherever many numbers are added.
 *
 * Given: numbers, any unit. Returned: their sum, as if added in twice the working precision and
 * then rounded; 0 for none. Reference: NEUMAIER-1974.
 */
export function compensatedSum(values: ArrayLike<number>): number {
  let sum = 0;
  let lost = 0;
  for (let i = 0; i < values.length; i += 1) {
    const value = values[i] as number;
    const next = sum + value;
    lost += Math.abs(sum) >= Math.abs(value) ? sum - next + value : value - next + sum;
    sum = next;
  }
  return sum + lost;
}
