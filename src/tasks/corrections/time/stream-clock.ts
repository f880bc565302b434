import { DAY_MS, gpsTimeOf, nearestInstant, WEEK_MS } from '../../../core/corrections/stream-times.js';
import { isLeapSeconds, leapSecondsAt, LATEST_LEAP_SECONDS } from '../../../core/corrections/leap-seconds.js';
import type { ObservationsMessage } from '../../../records/corrections/correction-message.js';
import type { LeapOrigin, StreamCalendar } from '../../../records/corrections/correction-audit.js';
import { createLeapOfPairs } from './leap-of-pairs.js';

/** 1980-01-06, from which weeks of GPS time are counted, in milliseconds since 1970. */
const FIRST_WEEK_MS = 315_964_800_000;
/** 1970-01-01 as a modified Julian day: days since 1858-11-17. */
const JULIAN_DAY_1970 = 40_587;
/** A file may begin so much before the end of the one before it, milliseconds: two recordings of one day. */
const OVERLAP_MS = DAY_MS;

/**
 * The time of a message of observations. `own`: it is its own; `assumed`: of GLONASS in a stream without another clock so far, by leap seconds
 * that are not known; `shown`: of GLONASS whose leap seconds are not known, so that it is what the clock shows.
 */
export interface ObservedTime {
  readonly ms: number | null;
  readonly by: 'own' | 'assumed' | 'shown';
}

/** The time of a stream, taken from its messages, and what is known of its date. */
export interface StreamClock {
  /** A file begins: it lies in the week that follows the one before it, or overlaps with its last day. */
  readonly begin: () => void;
  /** The time of a message of observations, which the clock then shows; null where it has none yet. */
  readonly observed: (message: ObservationsMessage) => ObservedTime;
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
  let hasEverWeekClock = false;
  /** GPS time minus UTC that times of GLONASS were taken with before another clock was there; null: none was. */
  let assumedLeapS: number | null = null;
  const pairs = createLeapOfPairs();
  const stated = createStatedTimes();

  const timeOf = (message: ObservationsMessage, leapSeconds: number): number | null => {
    const cycle = gpsTimeOf(message, leapSeconds);
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
      const isDay = message.clock === 'day';
      if (!isDay) hasWeekClock = hasEverWeekClock = true;
      pairs.add(message);
      const pairedS = pairs.leapSeconds();
      // Seconds of GLONASS hang on the leap seconds: until an epoch with another clock has said them, that one shows the time.
      if (isDay && hasWeekClock && pairedS === null) return { ms: nowMs, by: 'shown' };
      if (isDay && pairedS === null) assumedLeapS ??= announcedLeapS ?? LATEST_LEAP_SECONDS;
      const ms = timeOf(message, pairedS ?? assumedLeapS ?? LATEST_LEAP_SECONDS); // Of other clocks they mean nothing.
      const by = isDay && pairedS === null ? 'assumed' : 'own';
      if (ms === null) return { ms, by };
      nowMs = ms;
      firstMs ??= ms;
      lastMs = ms;
      return { ms, by };
    },
    dated(modifiedJulianDay, secondOfDay, leapSeconds) {
      if (leapSeconds !== null && isLeapSeconds(leapSeconds)) announcedLeapS ??= leapSeconds;
      if (nowMs === null) return;
      stated.add((modifiedJulianDay - JULIAN_DAY_1970) * DAY_MS + secondOfDay * 1000, nowMs);
    },
    calendar(dateMs, reconciledLeapS) {
      const anchor = stated.first();
      const [leapSeconds, leapFrom] = leapOf(announcedLeapS, reconciledLeapS, dateMs ?? anchor?.utcMs ?? null);
      const dateFrom = dateMs !== null ? 'option' : anchor !== null ? 'message' : null;
      // Of times of GLONASS alone: what the leap seconds that they were taken with are too many.
      const offMs = hasEverWeekClock || assumedLeapS === null ? 0 : (assumedLeapS - leapSeconds) * 1000;
      const zeroMs =
        dateMs !== null
          ? zeroOfDate(dateMs, firstMs === null ? null : firstMs - offMs, leapSeconds)
          : anchor === null
            ? null
            : weekNearest(anchor.utcMs + leapSeconds * 1000 - anchor.shownMs);
      if (zeroMs === null) return { zeroMs, dateFrom, leapSeconds, leapFrom, statedOffS: null };
      const ownMs = zeroMs - offMs;
      const statedOffS = stated.farthestS(ownMs - leapSeconds * 1000);
      return { zeroMs: ownMs, dateFrom, leapSeconds, leapFrom, statedOffS };
    },
  };
}

/** An instant that a message said in UTC, and what the clock showed then. */
interface StatedTime {
  readonly utcMs: number;
  readonly shownMs: number;
}

function createStatedTimes(): {
  readonly add: (utcMs: number, shownMs: number) => void;
  readonly first: () => StatedTime | null;
  /** Given the UTC of the clock's zero: how far the farthest instant lies from what the clock showed, seconds; null: none was said. */
  readonly farthestS: (zeroUtcMs: number) => number | null;
} {
  let first: StatedTime | null = null;
  let leastAheadMs = Infinity;
  let mostAheadMs = -Infinity;
  return {
    add(utcMs, shownMs) {
      first ??= { utcMs, shownMs };
      leastAheadMs = Math.min(leastAheadMs, utcMs - shownMs);
      mostAheadMs = Math.max(mostAheadMs, utcMs - shownMs);
    },
    first: () => first,
    farthestS: (zeroUtcMs) => (first === null ? null : farthest(leastAheadMs, mostAheadMs, zeroUtcMs) / 1000),
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
