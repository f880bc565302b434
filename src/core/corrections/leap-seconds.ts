/** From when on (2017, July 2015, July 2012, 2009, 2006, 1999) GPS time is so many seconds ahead of UTC, the latest first. Source: IERS-BULLETIN-C. */
const STEPS: readonly (readonly [number, number])[] = [
  [1_483_228_800_000, 18],
  [1_435_708_800_000, 17],
  [1_341_100_800_000, 16],
  [1_230_768_000_000, 15],
  [1_136_073_600_000, 14],
  [915_148_800_000, 13],
];

/** GPS time minus UTC at an instant, seconds, as of bulletin 72; null before 1999. */
export function leapSecondsAt(utcMs: number): number | null {
  return STEPS.find(([fromMs]) => utcMs >= fromMs)?.[1] ?? null;
}

/** GPS time is ahead of UTC by so many seconds, at least since 1999 and at most in any foreseeable time. */
const LEAST_S = 13;
const MOST_S = 30;

/** Whether a number of seconds can be GPS time minus UTC; 0 and 255 come from bases that do not know it (from memory). */
export function isLeapSeconds(seconds: number): boolean {
  return seconds >= LEAST_S && seconds <= MOST_S;
}

/** Of the last step: what holds where no time is known. */
export const LATEST_LEAP_SECONDS = 18;
