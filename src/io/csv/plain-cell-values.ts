import type { Buffer } from 'node:buffer';
import { parseUtc } from '../../core/numeric/text/parse-utc.js';

const POWERS_OF_TEN: Float64Array = Float64Array.of(
  1,
  1e1,
  1e2,
  1e3,
  1e4,
  1e5,
  1e6,
  1e7,
  1e8,
  1e9,
  1e10,
  1e11,
  1e12,
  1e13,
  1e14,
  1e15,
);
/** So many digits make a whole number that a double holds exactly, whatever they are. */
export const MOST_DIGITS = 15;

/** 10ⁿ for whole n from 0 to `MOST_DIGITS`, exactly. */
export function wholePowerOfTen(n: number): number {
  return POWERS_OF_TEN[n] as number;
}

/**
 * The number of a cell that is an optional minus, digits and at most one point; NaN for any other cell, which may
 * still be a number for `parseDecimal`. Where there is an answer it is `parseDecimal`'s to the last bit: at most
 * fifteen digits divided by an exact power of ten are rounded once.
 */
export function plainNumber(bytes: Buffer, from: number, to: number): number {
  const isNegative = bytes[from] === 0x2d;
  let at = isNegative ? from + 1 : from;
  let digits = to - at;
  let decimals = 0;
  let whole = 0;
  for (; at < to; at += 1) {
    const digit = (bytes[at] as number) - 0x30;
    if (digit >= 0 && digit <= 9) {
      whole = whole * 10 + digit;
      continue;
    }
    if (digit !== -2) return NaN;
    digits -= 1;
    decimals = to - at - 1;
    break;
  }
  for (at += 1; at < to; at += 1) {
    const digit = (bytes[at] as number) - 0x30;
    if (!(digit >= 0 && digit <= 9)) return NaN;
    whole = whole * 10 + digit;
  }
  if (digits < 1 || digits > MOST_DIGITS) return NaN;
  const value = whole / (POWERS_OF_TEN[decimals] as number);
  return isNegative ? -value : value;
}

/** The text of a cell; null where a byte is no visible ASCII character or inner space: look at it by other means. */
export type PlainText = (bytes: Buffer, from: number, to: number) => string | null;

/** A reader of the texts of one column. A cell like the one before it in the column is the same string again. */
export function createPlainText(): PlainText {
  let last = '';
  return (bytes, from, to) => {
    const length = to - from;
    if (length === 0) return '';
    if (length === last.length) {
      let same = 0;
      while (same < length && bytes[from + same] === last.charCodeAt(same)) same += 1;
      if (same === length) return last;
    }
    if (bytes[from] === 0x20 || bytes[to - 1] === 0x20) return null;
    for (let at = from; at < to; at += 1) {
      const byte = bytes[at] as number;
      if (byte < 0x20 || byte > 0x7e) return null;
    }
    last = bytes.toString('latin1', from, to);
    return last;
  };
}

/** The instant of a cell, milliseconds since 1970-01-01T00:00:00Z; NaN: look at it by other means. */
export type PlainTime = (bytes: Buffer, from: number, to: number) => number;

const DATE_LENGTH = 11;

/**
 * A reader of the times of one column written as `2026-03-04T06:00:00Z`, with or without three decimals, which
 * remembers the date. Where there is an answer it is `parseUtc`'s.
 */
export function createPlainTime(): PlainTime {
  let date = '';
  let dayStartMs = NaN;
  return (bytes, from, to) => {
    const length = to - from;
    if ((length !== 20 && length !== 24) || bytes[to - 1] !== 0x5a) return NaN;
    for (let index = 0; index < DATE_LENGTH; index += 1) {
      if (bytes[from + index] === date.charCodeAt(index)) continue;
      const text = bytes.toString('latin1', from, from + DATE_LENGTH);
      const start = parseUtc(`${text}00:00:00Z`);
      if (typeof start !== 'number') return NaN;
      date = text;
      dayStartMs = start;
      break;
    }
    const clock = from + DATE_LENGTH;
    if (bytes[clock + 2] !== 0x3a || bytes[clock + 5] !== 0x3a) return NaN;
    const hour = twoDigits(bytes, clock);
    const minute = twoDigits(bytes, clock + 3);
    const second = twoDigits(bytes, clock + 6);
    // Written so that NaN is refused. A leap second is left to parseUtc.
    if (!(hour <= 23 && minute <= 59 && second <= 59)) return NaN;
    const wholeMs = dayStartMs + (hour * 60 + minute) * 60_000 + second * 1000;
    if (length === 20) return wholeMs;
    return bytes[clock + 8] === 0x2e ? wholeMs + oneDigit(bytes, clock + 9) * 100 + twoDigits(bytes, clock + 10) : NaN;
  };
}

function oneDigit(bytes: Buffer, at: number): number {
  const digit = (bytes[at] as number) - 0x30;
  return digit >= 0 && digit <= 9 ? digit : NaN;
}

function twoDigits(bytes: Buffer, at: number): number {
  return oneDigit(bytes, at) * 10 + oneDigit(bytes, at + 1);
}
