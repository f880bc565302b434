/** An interval of a share, 0 to 1. */
export interface ShareInterval {
  readonly low: number;
  readonly high: number;
}

/** Two-sided 95 % of the normal distribution. */
const Z_95 = 1.959963984540054;

/**
 * Wilson's 95 % interval of a share: (p + z²/2n ± z √(p(1−p)/n + z²/4n²)) / (1 + z²/n).
 * Given: how many of how many, at least one. Reference: WILSON-1927.
 */
export function wilsonInterval(count: number, of: number): ShareInterval {
  const z2 = Z_95 * Z_95;
  const p = count / of;
  const middle = p + z2 / (2 * of);
  const half = Z_95 * Math.sqrt((p * (1 - p)) / of + z2 / (4 * of * of));
  const whole = 1 + z2 / of;
  return { low: Math.max(0, (middle - half) / whole), high: Math.min(1, (middle + half) / whole) };
}
