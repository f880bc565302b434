import type { Fix } from '../../../records/points/fix.js';
import type { RecordList } from '../../../records/record-list.js';
import type { EpochResult } from '../../../records/points/reduced-point.js';
import { recordAt } from '../packing/packed-records.js';

/** Times and counts of an occupation. */
export interface OccupationSpan {
  readonly firstMs: number | null;
  readonly lastMs: number | null;
  readonly durationS: number;
  readonly used: number;
  readonly rejected: number;
}

/** Times of the epochs used, or of all of them where none is; counts in epochs, a mean counting as many. */
export function occupationSpan(fixes: RecordList<Fix>, epochs: RecordList<EpochResult>): OccupationSpan {
  let firstMs: number | null = null;
  let lastMs: number | null = null;
  let used = 0;
  let rejected = 0;
  for (let index = 0; index < epochs.length; index += 1) {
    const { fix, weight } = recordAt(epochs, index);
    if (weight === 0) {
      rejected += fix.epochCount;
      continue;
    }
    used += fix.epochCount;
    firstMs ??= fix.epochMs;
    lastMs = fix.epochMs ?? lastMs;
  }
  if (used === 0) {
    firstMs = fixes.at(0)?.epochMs ?? null;
    lastMs = fixes.at(fixes.length - 1)?.epochMs ?? null;
  }
  return {
    firstMs,
    lastMs,
    durationS: firstMs === null || lastMs === null ? 0 : (lastMs - firstMs) / 1000,
    used,
    rejected,
  };
}
