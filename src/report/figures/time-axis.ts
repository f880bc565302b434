import { entryAt } from '../../records/present.js';
import { utc, utcDate, utcTime } from '../page/words/numbers.js';
import { utcScale } from './scales.js';
import type { PlotAxis } from './plot-frame.js';

const DAY_MS = 86_400_000;
/** No axis is shorter: a stream of one epoch has a length too. */
const LEAST_MS = 1000;

/** An axis of UTC over all these instants, its first one in the title. At least one must be given. */
export function timeAxis(instants: readonly number[], range: readonly [number, number]): PlotAxis {
  let [first, last] = [entryAt(instants, 0), entryAt(instants, 0)];
  for (const ms of instants) {
    first = Math.min(first, ms);
    last = Math.max(last, ms);
  }
  const domain: readonly [number, number] = [first, Math.max(last, first + LEAST_MS)];
  const scale = utcScale(domain, range, 7);
  const isLong = domain[1] - domain[0] > DAY_MS;
  const isShort = scale.step < 60_000;
  return {
    scale,
    title: utcTitle(first, last),
    write: (ms) => (isLong && ms % DAY_MS === 0 ? utc(ms).slice(5, 10) : utcTime(ms).slice(0, isShort ? 8 : 5)),
  };
}

/** What an axis of UTC is of: one day, or from when on. */
export function utcTitle(firstMs: number, lastMs: number): string {
  return utcDate(firstMs) === utcDate(lastMs)
    ? `UTC, ${utcDate(firstMs)}`
    : `UTC, from ${utcDate(firstMs)}, ${utcTime(firstMs).slice(0, 5)}`;
}
