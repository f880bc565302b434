import { parseDecimal } from '../../core/numeric/text/decimal-text.js';

/** Columns of a SINEX line, counted from 1 as the standard does, both included; without blanks around. */
export function columnsOf(line: string, first: number, last: number): string {
  return line.slice(first - 1, last).trim();
}

/** A number of Fortran's form, `-.238900777D+07`; null where it is none. */
export function sinexNumber(text: string): number | null {
  return parseDecimal(text.replace(/[dD]/u, 'E'));
}

/** Years of two digits up to this are of this century. */
const LAST_OF_CENTURY = 50;
const SECONDS_A_DAY = 86_400;

/**
 * An epoch `YY:DDD:SSSSS` (or with a year of four digits) as a decimal year.
 *
 * Returned: year and part of it by days over the days of that year; null for `00:000:00000`, which is open, and for what is
 * no epoch. Reference: SINEX, section "time".
 *
 * @example
 * sinexEpochYear('15:001:00000'); // 2015
 */
export function sinexEpochYear(text: string): number | null {
  const match = /^(?<year>\d{2}|\d{4}):(?<day>\d{3}):(?<second>\d{5})$/u.exec(text.trim());
  if (match?.groups === undefined) return null;
  const [short, day, second] = ['year', 'day', 'second'].map((name) => parseDecimal(match.groups?.[name] ?? '') ?? -1);
  if (short === undefined || day === undefined || second === undefined) return null;
  if (short === 0 && day === 0 && second === 0) return null;
  const year =
    (match.groups['year'] ?? '').length === 4 ? short : short <= LAST_OF_CENTURY ? 2000 + short : 1900 + short;
  const isLeap = (year % 4 === 0 && year % 100 !== 0) || year % 400 === 0;
  const days = isLeap ? 366 : 365;
  if (day < 1 || day > days || second > SECONDS_A_DAY) return null;
  return year + (day - 1 + second / SECONDS_A_DAY) / days;
}
