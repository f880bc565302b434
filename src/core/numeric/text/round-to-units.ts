/** Decimals up to which `roundToUnits` has an answer. */
export const QUICK_DECIMALS = 9;

const POWERS_OF_TEN: Float64Array = Float64Array.of(1, 10, 100, 1e3, 1e4, 1e5, 1e6, 1e7, 1e8, 1e9);

/** 10ⁿ for whole n from 0 to `QUICK_DECIMALS`, exactly. */
export function powerOfTen(n: number): number {
  return POWERS_OF_TEN[n] as number;
}

/**
 * How many units of 10^−decimals a number is, rounded half away from zero on its shortest decimal: the
 * arithmetic that `formatFixed` and `writeFixedCells` share.
 *
 * Given: the size of a number, 0 or above; decimals, whole, 0…9. Returned: a whole number below 10¹⁵; or
 * −1 where a double cannot decide and the printed digits must (`formatFixedFromText`): near a tie, for
 * large numbers, and for what is not finite.
 */
export function roundToUnits(size: number, decimals: number): number {
  const scaled = size * powerOfTen(decimals);
  // Written so that NaN and Infinity are refused too.
  if (!(scaled < 1e15 && size < 2147483647)) return -1;
  const whole = Math.floor(scaled + 0.5);
  // The scaled value is off by at most two parts in 2^53; too near a tie the text must decide. No branch on which side of
  // the tie it is: it would be taken at random.
  return 0.5 - Math.abs(scaled - whole) <= scaled * 4.5e-16 ? -1 : whole;
}
