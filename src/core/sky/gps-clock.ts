import { leapSecondsAt } from '../corrections/leap-seconds.js';

/** Instants on the clock of GPS are milliseconds since 1970-01-01T00:00:00 as that clock would have shown it: it keeps no leap seconds. */

const WEEK_MS = 604_800_000;
/** 1980-01-06T00:00:00, when the weeks of GPS began, milliseconds since 1970. */
const FIRST_WEEK_MS = 315_964_800_000;
/** The clock of BeiDou is behind that of GPS, seconds: it began in 2006, fourteen leap seconds later. */
export const BEIDOU_BEHIND_S = 14;

/** An instant of UTC on the clock of GPS; null before 1999, for which no leap seconds are kept here. */
export function gpsFromUtc(utcMs: number): number | null {
  const leapS = leapSecondsAt(utcMs);
  return leapS === null ? null : utcMs + 1000 * leapS;
}

/** Seconds since the week of GPS began. */
export function secondOfWeek(gpsMs: number): number {
  const behind = (gpsMs - FIRST_WEEK_MS) % WEEK_MS;
  return (behind < 0 ? behind + WEEK_MS : behind) / 1000;
}

/** The instant at a second of the week that lies nearest to another instant: less than half a week from it. */
export function nearestAtSecondOfWeek(nearMs: number, ofWeekS: number): number {
  const offMs = 1000 * (ofWeekS - secondOfWeek(nearMs));
  return nearMs + offMs - WEEK_MS * Math.round(offMs / WEEK_MS);
}

/** Weeks after which the number that satellites send begins again. Reference: IS-GPS-200, from memory. */
const ROLLOVER_WEEKS = 1024;

/**
 * The instant of a week of GPS and a second in it, where the week may have rolled over.
 *
 * Given: week, of ten bits or whole; second of the week; an instant near it, on the clock of GPS. Returned: the instant; a week below
 * 1024 is that one of every 1024 that lies nearest to the instant given, a higher one stands as it is.
 */
export function instantOfWeek(week: number, ofWeekS: number, nearMs: number): number {
  const instant = FIRST_WEEK_MS + week * WEEK_MS + 1000 * ofWeekS;
  if (week >= ROLLOVER_WEEKS) return instant;
  return instant + ROLLOVER_WEEKS * WEEK_MS * Math.round((nearMs - instant) / (ROLLOVER_WEEKS * WEEK_MS));
}
