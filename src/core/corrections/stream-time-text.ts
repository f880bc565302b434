import { formatFixed } from '../numeric/text/format-fixed.js';
import { formatUtc } from '../numeric/text/utc-text.js';
import type { StreamCalendar } from '../../records/corrections/correction-audit.js';
import { entryAt } from '../../records/present.js';
import { DAY_MS, WEEK_MS } from './stream-times.js';

const DAYS = ['Sun', 'Mon', 'Tue', 'Wed', 'Thu', 'Fri', 'Sat'] as const;

/** A time of a stream as UTC, milliseconds since 1970, whole; null where the date is not known. */
export function utcOfStream({ zeroMs, leapSeconds }: StreamCalendar, ms: number): number | null {
  return zeroMs === null ? null : Math.round(zeroMs + ms - leapSeconds * 1000);
}

/** A UTC instant, milliseconds since 1970, as a time of the stream; null where the date is not known. */
export function streamOfUtc({ zeroMs, leapSeconds }: StreamCalendar, utcMs: number): number | null {
  return zeroMs === null ? null : utcMs - zeroMs + leapSeconds * 1000;
}

/** A time of a stream for people: UTC, or the day of the week and the time of it in GPS time where no date is known. */
export function streamTimeText(calendar: StreamCalendar, ms: number): string {
  const utcMs = utcOfStream(calendar, ms);
  if (utcMs !== null) return formatUtc(utcMs);
  const ofWeek = ((ms % WEEK_MS) + WEEK_MS) % WEEK_MS;
  const ofDay = ofWeek % DAY_MS;
  const two = (value: number): string => String(Math.floor(value)).padStart(2, '0');
  const seconds = formatFixed((ofDay % 60_000) / 1000, ofDay % 1000 === 0 ? 0 : 3);
  return `${entryAt(DAYS, Math.floor(ofWeek / DAY_MS))} ${two(ofDay / 3_600_000)}:${two((ofDay % 3_600_000) / 60_000)}:${seconds.padStart(seconds.includes('.') ? 6 : 2, '0')} GPS time`;
}
