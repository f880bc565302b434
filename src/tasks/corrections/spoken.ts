import type { Listed, Said } from '../../records/corrections/correction-audit.js';

/** What was said, as long as it stayed the same. */
export interface Spoken<T> {
  readonly say: (value: T, atMs: number | null) => void;
  readonly result: () => Listed<T & Said>;
}

/** Changes that are listed; a station that moves all the time would fill the memory. */
const MOST_LISTED = 200;

/** Collects what a station says again and again, one entry for each change. `joined`: both in one where they do not contradict, else null. */
export function createSpoken<T extends object>(joined: (before: T, now: T) => T | null): Spoken<T> {
  const listed: { value: T; firstMs: number | null; lastMs: number | null; count: number }[] = [];
  let current: (typeof listed)[number] | null = null;
  let leftOut = 0;
  return {
    say(value, atMs) {
      const both = current === null ? null : joined(current.value, value);
      if (current !== null && both !== null) {
        current.value = both;
        current.firstMs ??= atMs;
        current.lastMs = atMs ?? current.lastMs;
        current.count += 1;
        return;
      }
      current = { value, firstMs: atMs, lastMs: atMs, count: 1 };
      if (listed.length < MOST_LISTED) listed.push(current);
      else leftOut += 1;
    },
    result: () => ({
      listed: listed.map(({ value, firstMs, lastMs, count }) => ({ ...value, firstMs, lastMs, count })),
      leftOut,
    }),
  };
}
