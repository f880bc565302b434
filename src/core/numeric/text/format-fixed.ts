import { InternalError } from '../../../records/internal-error.js';
import { QUICK_DECIMALS, powerOfTen, roundToUnits } from './round-to-units.js';

/** The most decimals that can be asked for. */
export const MOST_DECIMALS = 20;

/**
 * A number as text with a fixed count of decimals.
 *
 * The shortest decimal that names the double (what it prints as) is rounded, half away from zero,
 * so 1.005 to two decimals is 1.01. Never an exponent, never a minus before nothing but zeros.
 *
 * Given: a finite number; decimals, whole, 0…20. Returned: the text.
 * Errors: InternalError for a number that is not finite, or decimals out of range.
 * Inverse: `parseDecimal`.
 *
 * @example
 * formatFixed(1.005, 2); // '1.01'
 * formatFixed(-0.0001, 3); // '0.000'
 */
export function formatFixed(value: number, decimals: number): string {
  if (!(decimals >= 0 && decimals <= MOST_DECIMALS)) throw new InternalError('decimals are out of range');
  if (decimals > QUICK_DECIMALS) return formatFixedFromText(value, decimals);
  // A part of a decimal gives NaN there and is refused by the slow way, as a number that is not finite is.
  const whole = roundToUnits(value < 0 ? -value : value, decimals);
  if (whole < 0) return formatFixedFromText(value, decimals);
  const sign = value < 0 && whole > 0 ? '-' : '';
  if (decimals === 0) return sign + wholeText(whole);
  const power = powerOfTen(decimals);
  // Below 10^15 the quotient is off by less than a fifth of a unit of the last place: it is never rounded up to a whole.
  const units = Math.floor(whole / power);
  return sign + wholeText(units) + '.' + partsText(whole - units * power, decimals);
}

/** 0…999 as text, as they are and with zeros in front: three digits at a time is much faster than `String`. */
const PLAIN: readonly string[] = Array.from({ length: 1000 }, (_, n) => String(n));
const PADDED: readonly string[] = Array.from({ length: 1000 }, (_, n) => String(n).padStart(3, '0'));
/** 0…99 with a zero in front. */
const PAIRS: readonly string[] = Array.from({ length: 100 }, (_, n) => String(n).padStart(2, '0'));

/** A whole number, 0 or above, as text. */
function wholeText(n: number): string {
  if (n < 1000) return PLAIN[n] as string;
  if (n < 1e6) {
    const thousands = (n / 1000) | 0;
    return (PLAIN[thousands] as string) + (PADDED[n - thousands * 1000] as string);
  }
  if (n < 1e9) {
    const millions = (n / 1e6) | 0;
    const rest = n - millions * 1e6;
    const thousands = (rest / 1000) | 0;
    return (PLAIN[millions] as string) + (PADDED[thousands] as string) + (PADDED[rest - thousands * 1000] as string);
  }
  return String(n);
}

/** A whole number below 10^digits as exactly so many digits, 1…9. */
function partsText(n: number, digits: number): string {
  if (digits > 3) {
    const high = (n / 1000) | 0;
    return partsText(high, digits - 3) + (PADDED[n - high * 1000] as string);
  }
  return (digits === 3 ? PADDED[n] : digits === 2 ? PAIRS[n] : PLAIN[n]) as string;
}

/**
 * The same as `formatFixed`, by rounding the printed digits one by one: slower, and right for every
 * double. `formatFixed` uses it near ties and for very large numbers; tests compare the two.
 */
export function formatFixedFromText(value: number, decimals: number): string {
  if (!Number.isFinite(value)) throw new InternalError('a number that is not finite was to be printed');
  if (!Number.isInteger(decimals)) throw new InternalError('decimals must be a whole number');
  const [mantissa = '', exponentText = '0'] = String(Math.abs(value)).split('e');
  const [before = '', after = ''] = mantissa.split('.');
  let digits = before + after;
  // The value is 0.digits × 10^point.
  const point = before.length + Number(exponentText);
  const keep = point + decimals;
  if (keep < 0) digits = '';
  else if (keep < digits.length) {
    const up = digits.charCodeAt(keep) >= 53;
    digits = digits.slice(0, keep);
    if (up) digits = (BigInt('1' + digits) + 1n).toString();
    else digits = '1' + digits;
    // The guard digit 1 is now 1 or, after a carry through every digit, 2.
    digits = (digits.startsWith('2') ? '1' : '') + digits.slice(1);
  } else digits += '0'.repeat(keep - digits.length);
  digits = digits.padStart(decimals + 1, '0');
  const sign = value < 0 && /[1-9]/.test(digits) ? '-' : '';
  if (decimals === 0) return sign + digits;
  const split = digits.length - decimals;
  return `${sign}${digits.slice(0, split)}.${digits.slice(split)}`;
}
