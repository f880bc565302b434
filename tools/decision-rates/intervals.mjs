// Counts as rates, with Wilson's 95 % interval beside each (WILSON-1927).

const Z = 1.959963985;

/** Rate and interval of `count` in `of`; all between 0 and 1. */
export function wilson(count, of) {
  if (of === 0) return { rate: Number.NaN, low: 0, high: 1 };
  const p = count / of;
  const middle = p + Z ** 2 / (2 * of);
  const half = Z * Math.sqrt((p * (1 - p)) / of + Z ** 2 / (4 * of ** 2));
  const scale = 1 + Z ** 2 / of;
  return { rate: p, low: Math.max(0, (middle - half) / scale), high: Math.min(1, (middle + half) / scale) };
}

const percent = (value) =>
  (100 * value).toFixed(100 * value < 9.95 ? 2 : 1).replace(/\.?0+$/u, (zeros) => (zeros.includes('.') ? '' : zeros));

/** `1.2 % (0.8–1.7)`, or a dash where nothing was counted. */
export function rateText(count, of) {
  if (of === 0) return '–';
  const { rate, low, high } = wilson(count, of);
  return `${percent(rate)} % (${percent(low)}–${percent(high)})`;
}
