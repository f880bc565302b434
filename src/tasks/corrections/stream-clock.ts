import { DAY_MS, gpsTimeOf, nearestInstant, WEEK_MS } from '../../core/corrections/stream-times.js';
import { isLeapSeconds, leapSecondsAt, LATEST_LEAP_SECONDS } from '../../core/corrections/leap-seconds.js';
import type { ObservationsMessage } from '../../records/corrections/correction-message.js';
import type { LeapOrigin, StreamCalendar } from '../../records/corrections/correction-audit.js';

/** 1980-01-06, from which weeks of GPS time are counted, in milliseconds since 1970. */
const FIRST_WEEK_MS = 315_964_800_000;
/** 1970-01-01 as a modified Julian day: days since 1858-11-17. */
const JULIAN_DAY_1970 = 40_587;
/** A file may begin so much before the end of the one before it, milliseconds: two recordings of one day. */
const OVERLAP_MS = DAY_MS;

/** The time of a stream, taken from its messages, and what is known of its date. */
export interface StreamClock {
  /** A file begins: it lies in the week that follows the one before it, or overlaps with its last day. */
  readonly begin: () => void;
  /** The time of a message of observations, which the clock then shows; null where it has none yet. */
  readonly observed: (message: ObservationsMessage) => number | null;
  /** The latest time of the file; null before the first. */
  readonly now: () => number | null;
  /** A message says the date: 1013, which knows the seconds between GPS time and UTC, or 1029, which does not. */
  readonly dated: (modifiedJulianDay: number, secondOfDay: number, leapSeconds: number | null) => void;
  /**
   * What is known in the end. Given: the date of the first epoch in UTC, milliseconds since 1970 at its midnight, where the user said one; seconds between
   * GPS time and UTC as constellations say them. A date on which the stream cannot have begun gives `zeroMs` null.
   */
  readonly calendar: (dateMs: number | null, reconciledLeapS: number | null) => StreamCalendar;
}

export function createStreamClock(): StreamClock {
  let firstMs: number | null = null;
  let lastMs: number | null = null;
  let nowMs: number | null = null;
  let announcedLeapS: number | null = null;
  let hasWeekClock = false;
  /** The first instant that a message said in UTC, and what the clock showed then. */
  let anchor: { readonly utcMs: number; readonly shownMs: number } | null = null;
  /** Of every such instant what it is ahead of the clock, milliseconds. */
  let leastAheadMs = Infinity;
  let mostAheadMs = -Infinity;

  const timeOf = (message: ObservationsMessage): number | null => {
    const cycle = gpsTimeOf(message, announcedLeapS ?? LATEST_LEAP_SECONDS);
    if (nowMs !== null) return nearestInstant(cycle, nowMs);
    if (cycle.cycleMs !== WEEK_MS) return lastMs === null ? null : nearestInstant(cycle, lastMs);
    return lastMs === null ? cycle.ms : nearestInstant(cycle, lastMs - OVERLAP_MS + WEEK_MS / 2);
  };

  return {
    begin() {
      nowMs = null;
      hasWeekClock = false;
    },
    now: () => nowMs,
    observed(message) {
      hasWeekClock ||= message.clock === 'week';
      // Seconds of GLONASS hang on the leap seconds: where there is another clock it shows the time.
      if (message.clock === 'day' && hasWeekClock) return nowMs;
      const ms = timeOf(message);
      if (ms === null) return null;
      nowMs = ms;
      firstMs ??= ms;
      lastMs = ms;
      return ms;
    },
    dated(modifiedJulianDay, secondOfDay, leapSeconds) {
      if (leapSeconds !== null && isLeapSeconds(leapSeconds)) announcedLeapS ??= leapSeconds;
      if (nowMs === null) return;
      const utcMs = (modifiedJulianDay - JULIAN_DAY_1970) * DAY_MS + secondOfDay * 1000;
      anchor ??= { utcMs, shownMs: nowMs };
      leastAheadMs = Math.min(leastAheadMs, utcMs - nowMs);
      mostAheadMs = Math.max(mostAheadMs, utcMs - nowMs);
    },
    calendar(dateMs, reconciledLeapS) {
      const [leapSeconds, leapFrom] = leapOf(announcedLeapS, reconciledLeapS, dateMs ?? anchor?.utcMs ?? null);
      const dateFrom = dateMs !== null ? 'option' : anchor !== null ? 'message' : null;
      const zeroMs =
        dateMs !== null
          ? zeroOfDate(dateMs, firstMs, leapSeconds)
          : anchor === null
            ? null
            : weekNearest(anchor.utcMs + leapSeconds * 1000 - anchor.shownMs);
      const statedOffS =
        anchor === null || zeroMs === null
          ? null
          : farthest(leastAheadMs, mostAheadMs, zeroMs - leapSeconds * 1000) / 1000;
      return { zeroMs, dateFrom, leapSeconds, leapFrom, statedOffS };
    },
  };
}

/** Seconds between GPS time and UTC: as 1013 says, as constellations say, by the table at an instant, or assumed. */
function leapOf(
  announcedS: number | null,
  reconciledS: number | null,
  aboutMs: number | null,
): readonly [number, LeapOrigin] {
  if (announcedS !== null) return [announcedS, 'announced'];
  if (reconciledS !== null) return [reconciledS, 'reconciled'];
  const table = aboutMs === null ? null : leapSecondsAt(aboutMs);
  return table === null ? [LATEST_LEAP_SECONDS, 'assumed'] : [table, 'table'];
}

/** How far the farther of two lies from a third, with its sign. */
function farthest(one: number, other: number, from: number): number {
  return Math.abs(one - from) > Math.abs(other - from) ? one - from : other - from;
}

/** The beginning of a week of GPS time that lies nearest to an instant of it. */
function weekNearest(gpsMs: number): number {
  return FIRST_WEEK_MS + WEEK_MS * Math.round((gpsMs - FIRST_WEEK_MS) / WEEK_MS);
}

/** The week in which the first epoch falls on the date; null: the epoch is on another day of the week. */
function zeroOfDate(dateMs: number, firstMs: number | null, leapSeconds: number): number | null {
  if (firstMs === null) return weekNearest(dateMs);
  const zeroMs = weekNearest(dateMs + DAY_MS / 2 - firstMs);
  const utcMs = zeroMs + firstMs - leapSeconds * 1000;
  return utcMs >= dateMs && utcMs < dateMs + DAY_MS ? zeroMs : null;
}
