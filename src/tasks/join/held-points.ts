import type { DayVariance } from '../../records/reports/parts/day-variance.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import type { RecordList } from '../../records/record-list.js';
import { combineHeld } from '../repeats/combine-points.js';
import { applied, dayOfRepeats } from '../repeats/day-of-repeats.js';
import { withReasons } from '../repeats/disputed-stands.js';
import type { DisputedStand } from '../repeats/disputed-stands.js';
import { derivedList, recordAt } from '../reduce/packing/packed-records.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { createRepeatKeeper } from '../repeats/repeat-keeper.js';
import type { ComparedRepeats } from '../repeats/repeat-keeper.js';
import type { PointRepeat, RepeatPair } from '../repeats/repeat-pairs.js';
import { scaledByDay } from '../repeats/scale-by-day.js';

/** What was found of points that were held until the last was reduced. */
export interface FinishedPoints {
  readonly repeats: readonly PointRepeat[];
  /** Occupations of points that contradict themselves, where repeats were not joined; the points here are marked already. */
  readonly disputed: readonly DisputedStand[];
  /** Null where repeats were not joined, or pairs were not asked for. */
  readonly pairs: readonly RepeatPair[] | null;
  readonly day: DayVariance | null;
  /** Occupations whose uncertainty the day changed, by `occupationName`. */
  readonly revised: ReadonlyMap<string, ReducedPoint>;
}

/** What is asked of points that were held. */
export interface HeldQuestions {
  readonly isCombined: boolean;
  readonly isEstimated: boolean;
  /** Whether occupations that are joined are listed pair by pair. */
  readonly isPaired: boolean;
}

/** What an occupation is found by. */
export function occupationName({ pointId, occupation }: Pick<ReducedPoint, 'pointId' | 'occupation'>): string {
  return JSON.stringify([pointId, occupation]);
}

/**
 * What can only be done once all points are known: the factor of the day is estimated and applied, then repeats are joined.
 *
 * Given: every occupation of the run in its order; the setup; what is asked for. It gives the points as they are to be written, one by
 * one, and returns what was found once all are taken. Repeats are compared with the covariances that are written.
 */
export function* finishHeld(
  held: RecordList<ReducedPoint>,
  setup: ReductionSetup,
  asked: HeldQuestions,
): Generator<ReducedPoint, FinishedPoints> {
  const scaled = asked.isEstimated
    ? scaledHeld(held, setup)
    : { points: held, day: null, revised: new Map<string, ReducedPoint>() };
  const { points, day, revised } = scaled;
  if (!asked.isCombined) {
    const { repeats, disputed } = compared(points, setup);
    yield* marked(points, disputed);
    return { repeats, disputed, pairs: null, day: asked.isEstimated ? day : dayOfRepeats(repeats), revised };
  }
  const { repeats, pairs } = yield* combineHeld(points, setup, asked.isPaired);
  return { repeats, pairs, disputed: [], day: asked.isEstimated ? day : dayOfRepeats(repeats), revised };
}

/** The occupations of a day with the factor that their repeats say; as they are where those say nothing. */
export function scaledHeld(
  held: RecordList<ReducedPoint>,
  setup: ReductionSetup,
): Pick<FinishedPoints, 'day' | 'revised'> & { readonly points: RecordList<ReducedPoint> } {
  const day = applied(dayOfRepeats(compared(held, setup).repeats));
  const revised = new Map<string, ReducedPoint>();
  if (day?.isApplied !== true) return { points: held, day, revised };
  for (const point of held) {
    const scaled = scaledByDay(point, day, setup);
    if (scaled !== point) revised.set(occupationName(point), scaled);
  }
  return { points: derivedList(held, (point) => scaledByDay(point, day, setup)), day, revised };
}

function compared(points: RecordList<ReducedPoint>, setup: ReductionSetup): ComparedRepeats {
  const keeper = createRepeatKeeper(setup);
  for (const point of points) keeper.add(point);
  return keeper.compare((row) => recordAt(points, row).occupation);
}

function* marked(points: RecordList<ReducedPoint>, disputed: readonly DisputedStand[]): Generator<ReducedPoint> {
  const reasonsOf = new Map(disputed.map(({ row, reasons }) => [row, reasons]));
  let row = 0;
  for (const point of points) {
    const reasons = reasonsOf.get(row);
    yield reasons === undefined ? point : withReasons(point, reasons);
    row += 1;
  }
}
