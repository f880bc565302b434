import type { Buffer } from 'node:buffer';
import { formatFixed } from '../core/numeric/format-fixed.js';
import { QUICK_DECIMALS, powerOfTen, roundToUnits } from '../core/numeric/round-to-units.js';

const ZERO = 0x30;
const MINUS = 0x2d;
const POINT = 0x2e;

/** The most bytes that `writeFixed` can need for one number with up to nine decimals. */
export const MOST_FIXED_BYTES = 330;

/**
 * The bytes of `formatFixed(value, decimals)`, written into `bytes` from `at` without making a string.
 * Returned: the position after them. The caller sees to it that there is room for `MOST_FIXED_BYTES`.
 * Errors: those of `formatFixed`. A property test holds the two to the same digits.
 */
export function writeFixed(bytes: Buffer, at: number, value: number, decimals: number): number {
  const whole = decimals <= QUICK_DECIMALS ? roundToUnits(value < 0 ? -value : value, decimals) : -1;
  if (whole < 0) return writeAscii(bytes, at, formatFixed(value, decimals));
  let end = at;
  if (value < 0 && whole > 0) bytes[end++] = MINUS;
  if (decimals === 0) return writeWhole(bytes, end, whole);
  const power = powerOfTen(decimals);
  let units = Math.floor(whole / power);
  let parts = whole - units * power;
  if (parts < 0) {
    units -= 1;
    parts += power;
  }
  end = writeWhole(bytes, end, units);
  bytes[end] = POINT;
  const stop = end + 1 + decimals;
  let rest = parts | 0;
  for (let index = stop - 1; index > end; index -= 1) {
    const next = (rest / 10) | 0;
    bytes[index] = ZERO + rest - next * 10;
    rest = next;
  }
  return stop;
}

/** A whole number, 0 to 2³¹ − 1, as its digits. Returned: the position after them. */
export function writeWhole(bytes: Buffer, at: number, n: number): number {
  if (n > 2147483647) return writeAscii(bytes, at, formatFixed(n, 0));
  let rest = n | 0;
  let end = at + 1;
  if (rest >= 100000) end += rest >= 10000000 ? (rest >= 100000000 ? (rest >= 1000000000 ? 9 : 8) : 7) : rest >= 1000000 ? 6 : 5;
  else if (rest >= 10) end += rest >= 1000 ? (rest >= 10000 ? 4 : 3) : rest >= 100 ? 2 : 1;
  for (let index = end - 1; index >= at; index -= 1) {
    const next = (rest / 10) | 0;
    bytes[index] = ZERO + rest - next * 10;
    rest = next;
  }
  return end;
}

/** ASCII text as bytes. Returned: the position after them. */
export function writeAscii(bytes: Buffer, at: number, text: string): number {
  for (let index = 0; index < text.length; index += 1) bytes[at + index] = text.charCodeAt(index);
  return at + text.length;
}
