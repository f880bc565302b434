import type { Buffer } from 'node:buffer';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { QUICK_DECIMALS, powerOfTen, roundToUnits } from '../../core/numeric/text/round-to-units.js';

const ZERO = 0x30;
const MINUS = 0x2d;
const POINT = 0x2e;
const TEN_THOUSAND = 10_000;
const HUNDRED_MILLION = 100_000_000;
/** 0000, 0001… 9999 as their four digits, each as a word whose bytes stand in that order. */
const QUADS: Int32Array = quads();
/** 10ⁿ as whole numbers of 31 bits. */
const WHOLE_POWERS: Int32Array = Int32Array.from({ length: QUICK_DECIMALS + 1 }, (_, places) => powerOfTen(places));

/** 10⁻ⁿ for the decimals that are written quickly, as near as a double comes. */
const INVERSES: Float64Array = Float64Array.from({ length: QUICK_DECIMALS + 1 }, (_, places) => 1 / powerOfTen(places));

/** The most bytes that one number with up to nine decimals can need, and its delimiter. */
export const MOST_FIXED_BYTES = 330;

/** Stands for no number among the values of `writeFixedCells`: no quantity is so large. */
export const NO_NUMBER: number = -Number.MAX_VALUE;

/** Memory to be written into, as bytes and as words. */
export interface DigitRoom {
  readonly bytes: Buffer;
  readonly view: DataView;
}

/** Memory as a room for digits. */
export function digitRoom(bytes: Buffer): DigitRoom {
  return { bytes, view: new DataView(bytes.buffer, bytes.byteOffset, bytes.byteLength) };
}

/**
 * Numbers as cells: of each the bytes of `formatFixed(value, decimals)`, none for `NO_NUMBER`, and a delimiter, written
 * into the room from `at` without making strings. One call for many, as each number handed over by itself would first be put
 * into memory of its own.
 * Given: the values; for as many of them as are written, their decimals. Returned: the position after them. The caller sees
 * to it that there is room for `MOST_FIXED_BYTES` each; a few bytes after the last of them are written over.
 * Errors: those of `formatFixed`. A property test holds the two to the same digits.
 */
export function writeFixedCells(
  { bytes, view }: DigitRoom,
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
        end = writeUnits(view, end, units | 0);
        if (places > 0) {
          bytes[end] = POINT;
          writeDecimals(view, end + 1, rest | 0, places);
          end += 1 + places;
        }
      }
    }
    bytes[end++] = delimiterCode;
  }
  return end;
}

/** A whole number, 0 to 2³¹ − 1, as its digits. Returned: the position after them; up to eight bytes from there are written over. */
export function writeWhole({ bytes, view }: DigitRoom, at: number, n: number): number {
  return n > 2147483647 ? writeAscii(bytes, at, formatFixed(n, 0)) : writeUnits(view, at, n | 0);
}

/** Four digits are written at once, too many of them to the right of the last, where something else comes to stand. */
function writeUnits(view: DataView, at: number, n: number): number {
  if (n < TEN_THOUSAND) {
    const digits = n < 100 ? (n < 10 ? 1 : 2) : n < 1000 ? 3 : 4;
    writeQuad(view, at, n * (WHOLE_POWERS[4 - digits] as number));
    return at + digits;
  }
  if (n < HUNDRED_MILLION) {
    const digits = n < 1_000_000 ? (n < 100_000 ? 5 : 6) : n < 10_000_000 ? 7 : 8;
    writeEight(view, at, n * (WHOLE_POWERS[8 - digits] as number));
    return at + digits;
  }
  const head = (n / HUNDRED_MILLION) | 0;
  const end = writeUnits(view, at, head);
  writeEight(view, end, n - head * HUNDRED_MILLION);
  return end + 8;
}

/** So many digits, at most nine, of a whole number that has no more. */
function writeDecimals(view: DataView, at: number, n: number, places: number): void {
  if (places <= 4) writeQuad(view, at, n * (WHOLE_POWERS[4 - places] as number));
  else if (places <= 8) writeEight(view, at, n * (WHOLE_POWERS[8 - places] as number));
  else {
    const first = (n / HUNDRED_MILLION) | 0;
    view.setInt8(at, ZERO + first);
    writeEight(view, at + 1, n - first * HUNDRED_MILLION);
  }
}

function writeEight(view: DataView, at: number, n: number): void {
  const high = (n / TEN_THOUSAND) | 0;
  writeQuad(view, at, high);
  writeQuad(view, at + 4, n - high * TEN_THOUSAND);
}

function writeQuad(view: DataView, at: number, n: number): void {
  view.setInt32(at, QUADS[n] as number, true);
}

function quads(): Int32Array {
  const words = new Int32Array(TEN_THOUSAND);
  let at = 0;
  for (let a = 0; a < 10; a += 1)
    for (let b = 0; b < 10; b += 1)
      for (let c = 0; c < 10; c += 1)
        for (let d = 0; d < 10; d += 1) words[at++] = 0x30303030 + a + (b << 8) + (c << 16) + (d << 24);
  return words;
}

/** ASCII text as bytes. Returned: the position after them. */
export function writeAscii(bytes: Buffer, at: number, text: string): number {
  for (let index = 0; index < text.length; index += 1) bytes[at + index] = text.charCodeAt(index);
  return at + text.length;
}
