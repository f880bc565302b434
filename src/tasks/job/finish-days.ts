import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { RecordList } from '../../records/record-list.js';
import type { DayVariance } from '../../records/reports/parts/day-variance.js';
import { finishHeld, scaledHeld } from '../join/held-points.js';
import type { FinishedPoints, HeldQuestions } from '../join/held-points.js';
import { joinedList } from '../reduce/packing/packed-records.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';

/** The occupations of a day, as they were reduced. */
export interface HeldDay {
  readonly id: string;
  readonly setup: ReductionSetup;
  readonly held: RecordList<ReducedPoint>;
}

/** The points of a job, and what each of its days says of its own noise. */
export interface FinishedDays extends FinishedPoints {
  /** By day; empty where it was not asked for. */
  readonly days: readonly { readonly id: string; readonly day: DayVariance | null }[];
}

/**
 * What can only be done once all days are known: each is held against its own repeats, where that is asked for, and then the
 * occupations of a point are compared, and joined, over all days.
 *
 * Given: the days in their order; what they are compared with (`joinDays`); what is asked for. It gives the points as `finishHeld` does;
 * `day` of what it returns says what the repeats of all days together say.
 */
export function* finishDays(
  days: readonly HeldDay[],
  setup: ReductionSetup,
  asked: HeldQuestions,
): Generator<ReducedPoint, FinishedDays> {
  const points: RecordList<ReducedPoint>[] = [];
  const revised = new Map<string, ReducedPoint>();
  const variances: { readonly id: string; readonly day: DayVariance | null }[] = [];
  for (const { id, setup: own, held } of days) {
    if (!asked.isEstimated) {
      points.push(held);
      continue;
    }
    const scaled = scaledHeld(held, own);
    points.push(scaled.points);
    for (const [name, point] of scaled.revised) revised.set(name, point);
    variances.push({ id, day: scaled.day });
  }
  const finished = yield* finishHeld(joinedList(points), setup, { ...asked, isEstimated: false });
  return { ...finished, revised, days: variances };
}
