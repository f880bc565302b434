import { InternalError } from '../../records/internal-error.js';

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
 */
export function formatFixed(value: number, decimals: number): string {
  if (!(decimals >= 0 && decimals <= MOST_DECIMALS)) throw new InternalError('decimals are out of range');
  if (decimals > 9) return formatFixedFromText(value, decimals);
  const power = powerOfTen(decimals);
  const size = value < 0 ? -value : value;
  const scaled = size * power;
  // Written so that NaN and Infinity take the slow path, which refuses them.
  if (!(scaled < 1e15 && size < 2147483647)) return formatFixedFromText(value, decimals);
  let whole = Math.floor(scaled);
  const past = scaled - whole - 0.5;
  // The scaled value is off by at most two parts in 2^53; too near a tie the text must decide.
  const doubt = scaled * 4.5e-16;
  if (past <= doubt && past >= -doubt) return formatFixedFromText(value, decimals);
  if (past > 0) whole += 1;
  if (decimals === 0) return value < 0 && whole > 0 ? '-' + String(whole) : String(whole);
  let units = Math.floor(whole / power);
  let parts = whole - units * power;
  if (parts < 0) {
    units -= 1;
    parts += power;
  }
  // Whole numbers below 2^31 turn into text much faster; the leading 1 keeps the zeros.
  const tail = String((parts + power) | 0).slice(1);
  const head = String(units | 0);
  return value < 0 && whole > 0 ? '-' + head + '.' + tail : head + '.' + tail;
}

function powerOfTen(n: number): number {
  switch (n) {
    case 4:
      return 10000;
    case 9:
      return 1000000000;
    case 0:
      return 1;
    case 1:
      return 10;
    case 2:
      return 100;
    case 3:
      return 1000;
    case 5:
      return 100000;
    case 6:
      return 1000000;
    case 7:
      return 10000000;
    case 8:
      return 100000000;
    default:
      throw new InternalError('decimals must be a whole number');
  }
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
  digits = digits.padStart(decimals + 1, '0').replace(/^0+(?=\d)/, '').padStart(decimals + 1, '0');
  const sign = value < 0 && /[1-9]/.test(digits) ? '-' : '';
  if (decimals === 0) return sign + digits;
  const split = digits.length - decimals;
  return `${sign}${digits.slice(0, split)}.${digits.slice(split)}`;
}
