import { parseUtc } from '../../core/numeric/text/parse-utc.js';
import { entryAt } from '../../records/present.js';
import { UNKNOWN } from '../page/words/numbers.js';

const DAY_MS = 86_400_000;

/** Three and more days that follow each other, named by their dates. */
export function areInARow(days: readonly string[]): boolean {
  const times = days.map((day) => parseUtc(`${day}T00:00Z`));
  return (
    days.length > 2 &&
    times.every((time, index) => {
      const before = index === 0 ? null : entryAt(times, index - 1);
      return typeof time === 'number' && (before === null || (typeof before === 'number' && time - before === DAY_MS));
    })
  );
}

/** `2026-05-11, 06:00:00 UTC`. */
export function timeWords(text: string | null): string {
  if (text === null) return UNKNOWN;
  const [, day, time] = /^(\d{4}-\d{2}-\d{2})T(.*)Z$/u.exec(text) ?? []; // Another form stands as it is.
  return day === undefined || time === undefined ? text : `${day}, ${time} UTC`;
}
