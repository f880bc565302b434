import type { AgeResets } from '../../../records/corrections/link-report.js';
import { createRegularity } from '../time/regularity.js';

/** Follows the age of corrections from epoch to epoch. */
export interface AgeResetCount {
  /** Another file begins, perhaps of another rover. */
  readonly begin: () => void;
  readonly add: (ageS: number, epochMs: number | null) => void;
  readonly result: () => AgeResets;
}

/**
 * A reset is a drop of the age: fresh corrections came. Just before it age peaks, just after it is the latency of the link. Where nobody looked
 * for a while the drop is one all the same, since what was in use before is not in use any more.
 */
export function createAgeResets(): AgeResetCount {
  let before: number | null = null;
  const times = createRegularity();
  let count = 0;
  let peaks = 0;
  let troughs = 0;
  let least = Infinity;
  return {
    begin() {
      before = null;
    },
    add(ageS, epochMs) {
      if (before !== null && ageS < before) {
        count += 1;
        peaks += before;
        troughs += ageS;
        least = Math.min(least, ageS);
        if (epochMs !== null) times.add(epochMs);
      }
      before = ageS;
    },
    result() {
      const { meanIntervalS, usualIntervalS } = times.result();
      return count === 0
        ? { count, meanPeakS: null, meanTroughS: null, leastTroughS: null, meanIntervalS, usualIntervalS }
        : {
            count,
            meanPeakS: peaks / count,
            meanTroughS: troughs / count,
            leastTroughS: least,
            meanIntervalS,
            usualIntervalS,
          };
    },
  };
}
