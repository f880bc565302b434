import type { Buffer } from 'node:buffer';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { QUICK_DECIMALS, powerOfTen, roundToUnits } from '../../core/numeric/text/round-to-units.js';

const ZERO = 0x30;
const MINUS = 0x2d;
const POINT = 0x2e;
/** 00, 01… 99 as digits, one after the other. */
const PAIRS: Uint8Array = Uint8Array.from(
  { length: 200 },
  (_, index) => ZERO + (index % 2 === 0 ? Math.floor(index / 20) : (index >> 1) % 10),
);

/** 10⁻ⁿ for the decimals that are written quickly, as near as a double comes. */
const INVERSES: Float64Array = Float64Array.from({ length: QUICK_DECIMALS + 1 }, (_, places) => 1 / powerOfTen(places));

/** The most bytes that one number with up to nine decimals can need, and its delimiter. */
export const MOST_FIXED_BYTES = 330;

/** Stands for no number among the values of `writeFixedCells`: no quantity is so large. */
export const NO_NUMBER: number = -Number.MAX_VALUE;

/**
 * Numbers as cells: of each the bytes of `formatFixed(value, decimals)`, none for `NO_NUMBER`, and a delimiter, written
 * into `bytes` from `at` without making strings. One call for many, as each number handed over by itself would first be put
 * into memory of its own.
 * Given: the values; for as many of them as are written, their decimals. Returned: the position after them. The caller sees
 * to it that there is room for `MOST_FIXED_BYTES` each.
 * Errors: those of `formatFixed`. A property test holds the two to the same digits.
 */
export function writeFixedCells(
  bytes: Buffer,
  at: number,
  values: Float64Array,
  decimals: Uint8Array,
  delimiterCode: number,
): number {
  let end = at;
  for (let index = 0; index < decimals.length; index += 1) {
    const value = values[index] as number;
    if (value !== NO_NUMBER) {
      const places = decimals[index] as number;
      const whole = places <= QUICK_DECIMALS ? roundToUnits(Math.abs(value), places) : -1;
      if (whole < 0) end = writeAscii(bytes, end, formatFixed(value, places));
      else {
        if (value < 0 && whole > 0) bytes[end++] = MINUS;
        const power = powerOfTen(places);
        // Below 10^15 the product is off by less than a whole, which the rest shows; a division takes several times as long.
        let units = Math.floor(whole * (INVERSES[places] as number));
        let rest = whole - units * power;
        if (rest < 0) {
          units -= 1;
          rest += power;
        } else if (rest >= power) {
          units += 1;
          rest -= power;
        }
        end = writeWhole(bytes, end, units);
        if (places > 0) {
          bytes[end] = POINT;
          end += 1 + places;
          writeBefore(bytes, end, rest | 0, places);
        }
      }
    }
    bytes[end++] = delimiterCode;
  }
  return end;
}

/** A whole number, 0 to 2³¹ − 1, as its digits. Returned: the position after them. */
export function writeWhole(bytes: Buffer, at: number, n: number): number {
  if (n > 2147483647) return writeAscii(bytes, at, formatFixed(n, 0));
  const digits = digitsOf(n | 0);
  writeBefore(bytes, at + digits, n | 0, digits);
  return at + digits;
}

function digitsOf(n: number): number {
  if (n < 1000) return n < 10 ? 1 : n < 100 ? 2 : 3;
  if (n < 1000000) return n < 10000 ? 4 : n < 100000 ? 5 : 6;
  if (n < 100000000) return n < 10000000 ? 7 : 8;
  return n < 1000000000 ? 9 : 10;
}

/** The last so many digits of a whole number below 2³¹, up to `stop`; two at a time. */
function writeBefore(bytes: Buffer, stop: number, n: number, digits: number): void {
  let rest = n;
  let at = stop;
  let left = digits;
  for (; left > 1; left -= 2) {
    const next = (rest / 100) | 0;
    const pair = (rest - next * 100) << 1;
    rest = next;
    bytes[--at] = PAIRS[pair + 1] as number;
    bytes[--at] = PAIRS[pair] as number;
  }
  if (left === 1) bytes[at - 1] = ZERO + rest;
}

/** ASCII text as bytes. Returned: the position after them. */
export function writeAscii(bytes: Buffer, at: number, text: string): number {
  for (let index = 0; index < text.length; index += 1) bytes[at + index] = text.charCodeAt(index);
  return at + text.length;
}
