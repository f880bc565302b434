import type { CauseContext } from './cause-context.js';
import type { CausePoint } from './cause-day.js';
import type { CauseStand } from './cause-model.js';

/** Indexes of the points by time; in the order of the file where any time is not stated. */
export function timeOrder({ day }: CauseContext): readonly number[] {
  const indexes = day.points.map((_, index) => index);
  const middles = day.points.map((point) => point.middleMs).filter((middle) => middle !== null);
  if (middles.length !== indexes.length) return indexes;
  return indexes.sort((a, b) => (middles[a] as number) - (middles[b] as number) || a - b);
}

/** Index of a point's observation on an axis; −1 where it has none. */
export function observationOf({ list }: CauseContext, point: number, axis: number): number {
  const end = list.startOf[point + 1] as number;
  for (let i = list.startOf[point] as number; i < end; i += 1) if (list.axisOf[i] === axis) return i;
  return -1;
}

/** Whitened columns of one axis, summed over the points of `order` up to each place: sums[j] holds the first j. */
export function runningSums(context: CauseContext, order: readonly number[], axis: number): readonly Float64Array[] {
  const { size } = context.whitener;
  const sums = [new Float64Array(size)];
  for (const point of order) {
    const next = Float64Array.from(sums[sums.length - 1] as Float64Array);
    const index = observationOf(context, point, axis);
    if (index >= 0) {
      const column = context.whitener.column(index);
      for (let i = 0; i < size; i += 1) next[i] = (next[i] as number) + (column[i] as number);
    }
    sums.push(next);
  }
  return sums;
}

/** Sum of the columns from one place up to another. */
export function between(sums: readonly Float64Array[], from: number, to: number): Float64Array {
  const before = sums[from] as Float64Array;
  return (sums[to] as Float64Array).map((value, i) => value - (before[i] as number));
}

/** Whether a column says nothing. */
export const isZero = (column: Float64Array): boolean => column.every((value) => value === 0);

/** Point and occupation, as they are named. */
export function standName({ day }: CauseContext, point: number): string {
  const at = day.points[point] as CausePoint;
  return at.occupation === '' ? at.pointId : `${at.pointId}@${at.occupation}`;
}

/** How many stands each point has, by its name. */
export function standCounts({ day }: CauseContext): ReadonlyMap<string, number> {
  const counts = new Map<string, number>();
  for (const { pointId } of day.points) counts.set(pointId, (counts.get(pointId) ?? 0) + 1);
  return counts;
}

/** A stand as a form names it that moves it alone. */
export function standOf(context: CauseContext, point: number): CauseStand {
  const { pointId } = context.day.points[point] as CausePoint;
  return { name: standName(context, point), isOnlyOfPoint: standCounts(context).get(pointId) === 1 };
}

/** A whitened vector: an offset along the axes at each of some points. */
export function offsetsAt(context: CauseContext, points: readonly number[], offset: readonly number[]): Float64Array {
  const sum = new Float64Array(context.whitener.size);
  for (const point of points) {
    offset.forEach((size, axis) => {
      const at = size === 0 ? -1 : observationOf(context, point, axis);
      if (at < 0) return;
      const column = context.whitener.column(at);
      for (let i = 0; i < sum.length; i += 1) sum[i] = (sum[i] as number) + size * (column[i] as number);
    });
  }
  return sum;
}
