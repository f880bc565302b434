import type { Regularity, StreamGap } from '../../../records/corrections/correction-audit.js';
import { present } from '../../../records/present.js';

/** Intervals are counted to this, milliseconds, and times that lie nearer together are one: clocks of receivers step by one. */
const STEP_MS = 10;
/** Different lengths that are counted, and gaps that are listed. */
const MOST_LENGTHS = 2000;
const MOST_GAPS = 500;
/** An interval that is a gap: so many times the usual one. Between one and two times, one epoch is missing. */
const GAP_TIMES = 1.5;

/** Collects the times at which something came. Memory does not grow with how many there are. */
export interface RegularityCount {
  /** A time; the same one again, to less than 10 ms, counts once. */
  readonly add: (ms: number) => void;
  readonly result: () => Regularity;
}

export function createRegularity(): RegularityCount {
  const lengths = new Map<number, number>();
  /** The longest intervals, the longest first. */
  const longest: StreamGap[] = [];
  let count = 0;
  let firstMs: number | null = null;
  let lastMs: number | null = null;
  let totalMs = 0;
  let intervals = 0;
  let stepsBack = 0;

  const interval = (fromMs: number, toMs: number): void => {
    const ms = toMs - fromMs;
    intervals += 1;
    totalMs += ms;
    const key = Math.round(ms / STEP_MS);
    const seen = lengths.get(key);
    if (seen !== undefined) lengths.set(key, seen + 1);
    else if (lengths.size < MOST_LENGTHS) lengths.set(key, 1);
    const shortest = longest.at(-1);
    if (longest.length >= MOST_GAPS && shortest !== undefined && ms <= shortest.toMs - shortest.fromMs) return;
    let place = longest.length;
    while (place > 0 && lengthOf(longest[place - 1]) < ms) place -= 1;
    longest.splice(place, 0, { fromMs, toMs });
    if (longest.length > MOST_GAPS) longest.pop();
  };

  return {
    add(ms) {
      if (lastMs !== null && Math.abs(ms - lastMs) < STEP_MS) return;
      count += 1;
      firstMs ??= ms;
      if (lastMs !== null && ms < lastMs) stepsBack += 1;
      else if (lastMs !== null) interval(lastMs, ms);
      lastMs = ms;
    },
    result() {
      // Ties go to the shorter one.
      const usual = [...lengths].reduce<readonly [number, number] | null>(
        (best, own) => (best === null || own[1] > best[1] || (own[1] === best[1] && own[0] < best[0]) ? own : best),
        null,
      );
      const limit = usual === null ? Infinity : present(usual[0], 'usual') * STEP_MS * GAP_TIMES;
      const gaps = longest.filter((gap) => lengthOf(gap) > limit).sort((a, b) => a.fromMs - b.fromMs);
      const all = [...lengths].reduce((sum, [key, times]) => sum + (key * STEP_MS > limit ? times : 0), 0);
      return {
        count,
        firstMs,
        lastMs,
        meanIntervalS: intervals === 0 ? null : totalMs / intervals / 1000,
        usualIntervalS: usual === null ? null : (usual[0] * STEP_MS) / 1000,
        longestGapS: longest[0] === undefined ? null : lengthOf(longest[0]) / 1000,
        gaps: { listed: gaps, leftOut: Math.max(0, all - gaps.length) },
        stepsBack,
      };
    },
  };
}

function lengthOf(gap: StreamGap | undefined): number {
  return gap === undefined ? Infinity : gap.toMs - gap.fromMs;
}
