import type { OccupationInterval } from '../fixes/occupations-read.js';

/** Finds the occupation that holds an instant. */
export interface OccupationFinder {
  /** Given: milliseconds since 1970-01-01T00:00:00Z. Null where no occupation holds it. */
  readonly at: (ms: number) => OccupationInterval | null;
}

/** A finder over occupations sorted by time. Instants come in order, nearly always: the search starts where it last ended. */
export function createOccupationFinder(list: readonly OccupationInterval[]): OccupationFinder {
  let next = 0;
  return {
    at(ms) {
      if (ms < (list[next]?.fromMs ?? Infinity)) next = 0;
      while (next < list.length && list[next]!.toMs < ms) next += 1;
      const found = list[next];
      return found !== undefined && found.fromMs <= ms ? found : null;
    },
  };
}
