import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { RecordList } from '../../../records/record-list.js';
import type { EpochResult } from '../../../records/points/reduced-point.js';
import type { ReportTimeline } from '../../../records/reports/reduction-report.js';

/** Counts epochs by time and by what became of them, in bounded memory. */
export interface EpochTimeline {
  add(epochs: RecordList<EpochResult>): void;
  /** Null where no epoch stated its time. */
  result(refusals: readonly ProblemCode[]): ReportTimeline | null;
}

const FIRST_BIN_MS = 10_000;
const MOST_BINS = 4000;
const MOST_DRAWN = 240;

/** Starts with bins of ten seconds and doubles them whenever there are too many. */
export function createEpochTimeline(): EpochTimeline {
  let binMs = FIRST_BIN_MS;
  let used = new Map<number, number>();
  const refused = new Map<ProblemCode, Map<number, number>>();

  const coarsen = (): void => {
    binMs *= 2;
    used = halved(used);
    for (const [code, counts] of refused) refused.set(code, halved(counts));
  };
  return {
    add(epochs) {
      for (const { fix, refusals } of epochs) {
        if (fix.epochMs === null) continue;
        const bin = Math.floor(fix.epochMs / binMs);
        if (refusals.length === 0) used.set(bin, (used.get(bin) ?? 0) + 1);
        for (const code of refusals) {
          let counts = refused.get(code);
          if (counts === undefined) refused.set(code, (counts = new Map<number, number>()));
          counts.set(bin, (counts.get(bin) ?? 0) + 1);
        }
      }
      while (used.size > MOST_BINS || [...refused.values()].some((counts) => counts.size > MOST_BINS)) coarsen();
    },
    result(codes) {
      const span = (): readonly [number, number] | null => {
        let first = Infinity;
        let last = -Infinity;
        for (const counts of [used, ...refused.values()]) {
          for (const bin of counts.keys()) {
            first = Math.min(first, bin);
            last = Math.max(last, bin);
          }
        }
        return first > last ? null : [first, last];
      };
      let ends = span();
      while (ends !== null && ends[1] - ends[0] >= MOST_DRAWN) {
        coarsen();
        ends = span();
      }
      if (ends === null) return null;
      const [first, last] = ends;
      const listed = (counts: ReadonlyMap<number, number> | undefined): number[] =>
        Array.from({ length: last - first + 1 }, (_, i) => counts?.get(first + i) ?? 0);
      return {
        startMs: first * binMs,
        binMs,
        used: listed(used),
        refused: codes.map((code) => ({ code, counts: listed(refused.get(code)) })),
      };
    },
  };
}

function halved(counts: ReadonlyMap<number, number>): Map<number, number> {
  const coarse = new Map<number, number>();
  for (const [bin, count] of counts) {
    const wider = Math.floor(bin / 2);
    coarse.set(wider, (coarse.get(wider) ?? 0) + count);
  }
  return coarse;
}
