const DAY_MS = 86_400_000;
const HALF_DAY_MS = DAY_MS / 2;

/** An item with its instant, milliseconds since 1970-01-01T00:00:00Z. */
export interface Dated<T> {
  readonly item: T;
  readonly ms: number;
}

/** Gives times of day their dates. */
export interface NmeaClock<T> {
  /** Says which day a time of day belongs to: midnight in milliseconds, or null where the sentence does not know. */
  readonly setDate: (timeOfDayMs: number, midnightMs: number | null) => void;
  /** Adds an item with its time of day; items come in order of time. */
  readonly add: (timeOfDayMs: number, item: T) => void;
  /** The items dated since the last call, in the order they came. */
  readonly take: () => readonly Dated<T>[];
  /** How many items still wait for the first date. */
  readonly waiting: () => number;
}

/**
 * A clock for a log whose positions carry the time of day and whose date comes now and then.
 * Each time is put on the day that brings it nearest to the last instant known, within half a day: that carries the date
 * across midnight in both directions. Items before the first date wait for it and are dated backwards from it. A gap of
 * more than half a day without a date cannot be seen.
 */
export function createNmeaClock<T>(): NmeaClock<T> {
  let knownMs: number | null = null;
  let undated: { readonly timeOfDayMs: number; readonly item: T }[] = [];
  let dated: Dated<T>[] = [];

  return {
    setDate(timeOfDayMs, midnightMs) {
      if (midnightMs === null) return;
      knownMs = midnightMs + timeOfDayMs;
      let laterMs = knownMs;
      const backwards: Dated<T>[] = [];
      for (const { timeOfDayMs: time, item } of undated.reverse()) {
        laterMs = nearest(time, laterMs);
        backwards.push({ item, ms: laterMs });
      }
      dated = [...dated, ...backwards.reverse()];
      undated = [];
    },
    add(timeOfDayMs, item) {
      if (knownMs === null) {
        undated.push({ timeOfDayMs, item });
        return;
      }
      knownMs = nearest(timeOfDayMs, knownMs);
      dated.push({ item, ms: knownMs });
    },
    take() {
      const taken = dated;
      dated = [];
      return taken;
    },
    waiting: () => undated.length,
  };
}

/** The instant of a time of day that is nearest to another instant. */
function nearest(timeOfDayMs: number, instantMs: number): number {
  const midnight = Math.floor(instantMs / DAY_MS) * DAY_MS;
  const ms = midnight + timeOfDayMs;
  if (ms - instantMs > HALF_DAY_MS) return ms - DAY_MS;
  return instantMs - ms > HALF_DAY_MS ? ms + DAY_MS : ms;
}
