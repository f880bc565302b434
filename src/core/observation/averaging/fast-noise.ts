/**
 * Noise of single epochs apart from anything slow: √(Σ(xᵢ₊₁ − xᵢ)² / (2(m − 1))) over the m used
 * epochs. Drift and slowly varying errors cancel in successive differences.
 *
 * Given: one component of the epochs in time order, metres; for each epoch a number other than 0
 * where it is screened out, null: none is.
 * Returned: one sigma, metres; null with fewer than 3 used epochs.
 *
 * Notes: epochs logged faster than the receiver's own filter are correlated, and the result is then
 * too small. It is a measure of noise, never of accuracy.
 *
 * Reference: VON-NEUMANN-1941, mean square successive difference.
 */
export function fastNoise(values: ArrayLike<number>, screened: ArrayLike<number> | null): number | null {
  let used = 0;
  let previous = 0;
  let sum = 0;
  for (let i = 0; i < values.length; i += 1) {
    if (screened !== null && (screened[i] as number) !== 0) continue;
    const value = values[i] as number;
    if (used > 0) sum += (value - previous) * (value - previous);
    previous = value;
    used += 1;
  }
  return used < 3 ? null : Math.sqrt(sum / (2 * (used - 1)));
}
