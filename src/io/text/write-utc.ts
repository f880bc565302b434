import type { Buffer } from 'node:buffer';
import { formatUtc } from '../../core/numeric/text/utc-text.js';
import { writeAscii } from './write-digits.js';

const DAY_MS = 86_400_000;
const ZERO = 0x30;

/** Writes an instant, milliseconds since 1970-01-01T00:00:00Z; returned: the position after it. */
export type UtcWriter = (bytes: Buffer, at: number, ms: number) => number;

/**
 * A writer of the bytes of `formatUtc(ms)`. It keeps the date of the last instant: rows of a table follow each other in
 * time. A property test holds it to `formatUtc`.
 */
export function createUtcWriter(): UtcWriter {
  let dayStartMs = NaN;
  let date = '';
  return (bytes, at, ms) => {
    if (!(ms >= dayStartMs && ms < dayStartMs + DAY_MS)) {
      dayStartMs = Math.floor(ms / DAY_MS) * DAY_MS;
      date = formatUtc(dayStartMs).slice(0, -9);
    }
    const milli = ms - dayStartMs;
    const second = Math.floor(milli / 1000);
    if (second * 1000 !== milli) return writeAscii(bytes, at, formatUtc(ms));
    const minute = (second / 60) | 0;
    const hour = (minute / 60) | 0;
    const end = writeAscii(bytes, at, date);
    twoDigits(bytes, end, hour);
    bytes[end + 2] = 0x3a;
    twoDigits(bytes, end + 3, minute - hour * 60);
    bytes[end + 5] = 0x3a;
    twoDigits(bytes, end + 6, second - minute * 60);
    bytes[end + 8] = 0x5a;
    return end + 9;
  };
}

function twoDigits(bytes: Buffer, at: number, n: number): void {
  const tens = (n / 10) | 0;
  bytes[at] = ZERO + tens;
  bytes[at + 1] = ZERO + n - tens * 10;
}
