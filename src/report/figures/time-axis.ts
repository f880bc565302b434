import { entryAt } from '../../records/present.js';
import { utc, utcDate, utcTime } from '../page/words/numbers.js';
import { utcScale } from './scales.js';
import type { Scale } from './scales.js';
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
  const scale = roomyScale(domain, range);
  const isLong = domain[1] - domain[0] > DAY_MS;
  const isShort = scale.step < 60_000;
  return {
    scale,
    title: utcTitle(first, last),
    write: (ms) => (isLong && ms % DAY_MS === 0 ? utc(ms).slice(5, 10) : utcTime(ms).slice(0, isShort ? 8 : 5)),
  };
}

/** What a time takes, with a little room to the next: of hours and minutes, and with seconds. */
const SHORT_PX = 40;
const LONG_PX = 58;

/** As many ticks as have room for their words. */
function roomyScale(domain: readonly [number, number], range: readonly [number, number]): Scale {
  for (let about = 7; about > 2; about -= 1) {
    const scale = utcScale(domain, range, about);
    const step = scale.to(domain[0] + scale.step) - scale.to(domain[0]);
    if (Math.abs(step) >= (scale.step < 60_000 ? LONG_PX : SHORT_PX)) return scale;
  }
  return utcScale(domain, range, 2);
}

/** What an axis of UTC is of: one day, or from when on. */
function utcTitle(firstMs: number, lastMs: number): string {
  return utcDate(firstMs) === utcDate(lastMs)
    ? `UTC, ${utcDate(firstMs)}`
    : `UTC, from ${utcDate(firstMs)}, ${utcTime(firstMs).slice(0, 5)}`;
}
