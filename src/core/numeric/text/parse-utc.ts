const DAY_MS = 86_400_000;
const MONTH_DAYS: readonly number[] = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];
const FORM = /^(\d{4})-(\d{2})-(\d{2})[T ](\d{2}):(\d{2})(?::(\d{2})(\.\d{1,9})?)?(Z|[+-]\d{2}:\d{2})?$/;

/**
 * A UTC instant from ISO 8601 text.
 *
 * Given: `2026-03-04T06:00:00Z`, with a fraction of a second or without seconds, and `Z` or an offset `±hh:mm`;
 * a blank may stand for the T (RFC 3339 allows it).
 * Spaces around it are allowed. A second of 60 is read only at 23:59 UTC, as the start of the next day.
 * Returned: whole milliseconds since 1970-01-01T00:00:00Z (a finer fraction is rounded), or `syntax` for text
 * that is no such time or names a day that does not exist, or `zone` for a time that does not state its zone.
 * Reference: ISO 8601-1:2019 section 5.4; RFC 3339 section 5.6. Inverse: `formatUtc`.
 */
export function parseUtc(text: string): number | 'syntax' | 'zone' {
  const fast = plainForm(text);
  if (fast !== null) return fast;
  const match = FORM.exec(text.trim());
  if (match === null) return 'syntax';
  const [, year, month, day, hour, minute, second = '0', fraction = '', zone] = match;
  // A leap second comes at the end of a day of UTC, whatever the clock of the zone shows.
  const leapMs = second === '60' ? 1000 : 0;
  const seconds = leapMs === 0 ? Number(second) : 59;
  const local = instantMs(Number(year), Number(month), Number(day), Number(hour), Number(minute), seconds);
  if (local === null) return 'syntax';
  if (zone === undefined) return 'zone';
  const offset = offsetMinutes(zone);
  if (offset === null) return 'syntax';
  const whole = local + leapMs - offset * 60_000;
  if (leapMs !== 0 && whole % DAY_MS !== 0) return 'syntax';
  return whole + Math.round(Number(`0${fraction}`) * 1000);
}

/**
 * Milliseconds since 1970-01-01T00:00:00Z of a civil date and time in UTC, or null when there is no such day or
 * time. Proleptic Gregorian calendar.
 */
export function instantMs(
  year: number,
  month: number,
  day: number,
  hour: number,
  minute: number,
  second: number,
): number | null {
  if (month < 1 || month > 12 || day < 1 || hour > 23 || minute > 59) return null;
  if (second > 59 && !(second === 60 && hour === 23 && minute === 59)) return null;
  const isLeapYear = year % 4 === 0 && (year % 100 !== 0 || year % 400 === 0);
  const last = month === 2 && isLeapYear ? 29 : (MONTH_DAYS[month - 1] as number);
  if (day > last) return null;
  return daysSince1970(year, month, day) * DAY_MS + (hour * 60 + minute) * 60_000 + second * 1000;
}

/** `YYYY-MM-DDTHH:MM:SSZ` with or without three decimals, the form nearly every row has; null: try the rest. */
function plainForm(text: string): number | null {
  const length = text.length;
  if ((length !== 20 && length !== 24) || text.charCodeAt(length - 1) !== 90 || text.charCodeAt(10) !== 84) return null;
  if (text.charCodeAt(4) !== 45 || text.charCodeAt(7) !== 45) return null;
  if (text.charCodeAt(13) !== 58 || text.charCodeAt(16) !== 58) return null;
  let milli = 0;
  if (length === 24) {
    if (text.charCodeAt(19) !== 46) return null;
    milli = digit(text, 20) * 100 + two(text, 21);
  }
  const year = two(text, 0) * 100 + two(text, 2);
  const second = two(text, 17);
  const whole = instantMs(year, two(text, 5), two(text, 8), two(text, 11), two(text, 14), second);
  if (whole === null) return null;
  const ms = whole + milli;
  // NaN comes from a character that is no digit.
  return Number.isNaN(ms) ? null : ms;
}

function digit(text: string, at: number): number {
  const value = text.charCodeAt(at) - 48;
  return value >= 0 && value <= 9 ? value : NaN;
}

function two(text: string, at: number): number {
  return digit(text, at) * 10 + digit(text, at + 1);
}

function offsetMinutes(zone: string): number | null {
  if (zone === 'Z') return 0;
  const hours = Number(zone.slice(1, 3));
  const minutes = Number(zone.slice(4, 6));
  if (hours > 23 || minutes > 59) return null;
  return (zone.startsWith('-') ? -1 : 1) * (hours * 60 + minutes);
}

/** Days from 1970-01-01, counting years from March so that leap days fall at their end. */
function daysSince1970(year: number, month: number, day: number): number {
  const y = month <= 2 ? year - 1 : year;
  const era = Math.floor(y / 400);
  const yearOfEra = y - era * 400;
  const dayOfYear = Math.floor((153 * (month > 2 ? month - 3 : month + 9) + 2) / 5) + day - 1;
  return (
    era * 146_097 + yearOfEra * 365 + Math.floor(yearOfEra / 4) - Math.floor(yearOfEra / 100) + dayOfYear - 719_468
  );
}
