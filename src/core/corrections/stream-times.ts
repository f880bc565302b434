import type { ObservationsMessage } from '../../records/corrections/correction-message.js';

/** Milliseconds of a day and of a week. */
export const DAY_MS = 86_400_000;
export const WEEK_MS: number = 7 * DAY_MS;

/** BeiDou time is so far behind GPS time, milliseconds. Reference: RTCM-10403, times of messages. */
const BEIDOU_BEHIND_MS = 14_000;
/** Moscow time of GLONASS is so far ahead of UTC, milliseconds. */
const MOSCOW_AHEAD_MS = 10_800_000;

/** The time of a message of observations as one of a cycle: milliseconds of the GPS week, or of the day where no day is sent. */
export interface CycleTime {
  readonly ms: number;
  readonly cycleMs: number;
}

/**
 * The GPS time that a message of observations has.
 * Given: the message; GPS time minus UTC, seconds, which times of GLONASS need: they are of the Moscow day, UTC + 3 h.
 * Returned: milliseconds of the GPS week, of the day where GLONASS sends no day.
 * Reference: RTCM-10403 (from memory; reconciled to the millisecond on real streams).
 */
export function gpsTimeOf(message: ObservationsMessage, leapSeconds: number): CycleTime {
  const { constellation, clock, timeMs, dayOfWeek } = message;
  if (clock === 'day') {
    const cycleMs = dayOfWeek === null ? DAY_MS : WEEK_MS;
    // Without a day the cycle is one day, and every day of it is the same.
    return { ms: wrapped((dayOfWeek ?? 0) * DAY_MS + timeMs - MOSCOW_AHEAD_MS + leapSeconds * 1000, cycleMs), cycleMs };
  }
  return { ms: wrapped(constellation === 'BeiDou' ? timeMs + BEIDOU_BEHIND_MS : timeMs, WEEK_MS), cycleMs: WEEK_MS };
}

/** The instant of a cycle that lies nearest to another one; milliseconds from the same zero. */
export function nearestInstant({ ms, cycleMs }: CycleTime, toMs: number): number {
  return ms + cycleMs * Math.round((toMs - ms) / cycleMs);
}

/**
 * GPS time minus UTC that a time of GLONASS and a GPS time of the same epoch say, milliseconds from 0 to a day.
 * Given: the milliseconds of the Moscow day; those of the GPS week.
 */
export function leapOfPair(moscowMs: number, gpsMs: number): number {
  return wrapped(gpsMs - moscowMs + MOSCOW_AHEAD_MS, DAY_MS);
}

function wrapped(ms: number, cycleMs: number): number {
  return ((ms % cycleMs) + cycleMs) % cycleMs;
}
