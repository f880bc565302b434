import type { DayVariance } from '../../records/reports/day-variance.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { combinePoints } from '../repeats/combine-points.js';
import { applied, dayOfRepeats } from '../repeats/day-of-repeats.js';
import { withReasons } from '../repeats/disputed-stands.js';
import type { DisputedStand } from '../repeats/disputed-stands.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import { createRepeatKeeper } from '../repeats/repeat-keeper.js';
import type { ComparedRepeats } from '../repeats/repeat-keeper.js';
import type { PointRepeat, RepeatPair } from '../repeats/repeat-pairs.js';
import { entryAt } from '../../records/present.js';
import { scaledByDay } from '../repeats/scale-by-day.js';

/** Points that were held until the last was reduced, as they are to be written. */
export interface FinishedPoints {
  readonly points: readonly ReducedPoint[];
  readonly repeats: readonly PointRepeat[];
  /** Occupations of points that contradict themselves, where repeats were not joined; the points here are marked already. */
  readonly disputed: readonly DisputedStand[];
  /** Null where repeats were not joined. */
  readonly pairs: readonly RepeatPair[] | null;
  readonly day: DayVariance | null;
  /** Occupations whose uncertainty the day changed, by `occupationName`. */
  readonly revised: ReadonlyMap<string, ReducedPoint>;
}

/** What an occupation is found by. */
export function occupationName({ pointId, occupation }: Pick<ReducedPoint, 'pointId' | 'occupation'>): string {
  return JSON.stringify([pointId, occupation]);
}

/**
 * What can only be done once all points are known: the factor of the day is estimated and applied, then repeats are joined.
 *
 * Given: every occupation of the run in its order; the setup; what is asked for. Returned: see `FinishedPoints`. Repeats are
 * compared with the covariances that are written.
 */
export function finishHeld(
  held: readonly ReducedPoint[],
  setup: ReductionSetup,
  asked: { readonly isCombined: boolean; readonly isEstimated: boolean },
): FinishedPoints {
  const scaled = asked.isEstimated
    ? scaledHeld(held, setup)
    : { points: held, day: null, revised: new Map<string, ReducedPoint>() };
  const { points, day, revised } = scaled;
  if (!asked.isCombined) {
    const { repeats, disputed } = compared(points, setup);
    return {
      points: marked(points, disputed),
      repeats,
      disputed,
      pairs: null,
      day: asked.isEstimated ? day : dayOfRepeats(repeats),
      revised,
    };
  }
  const combined = combinePoints(points, setup);
  return { ...combined, disputed: [], day: asked.isEstimated ? day : dayOfRepeats(combined.repeats), revised };
}

/** The occupations of a day with the factor that their repeats say; as they are where those say nothing. */
export function scaledHeld(
  held: readonly ReducedPoint[],
  setup: ReductionSetup,
): Pick<FinishedPoints, 'points' | 'day' | 'revised'> {
  const day = applied(dayOfRepeats(compared(held, setup).repeats));
  const points = day === null ? held : held.map((point) => scaledByDay(point, day, setup));
  const revised = new Map(
    points.flatMap((point, index) => (point === held[index] ? [] : [[occupationName(point), point] as const])),
  );
  return { points, day, revised };
}

function compared(points: readonly ReducedPoint[], setup: ReductionSetup): ComparedRepeats {
  const keeper = createRepeatKeeper(setup);
  for (const point of points) keeper.add(point);
  return keeper.compare((row) => entryAt(points, row).occupation);
}

function marked(points: readonly ReducedPoint[], disputed: readonly DisputedStand[]): readonly ReducedPoint[] {
  if (disputed.length === 0) return points;
  const all = [...points];
  for (const { row, reasons } of disputed) {
    const point = points[row];
    if (point !== undefined) all[row] = withReasons(point, reasons);
  }
  return all;
}
