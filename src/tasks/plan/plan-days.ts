import type { WorkWindow } from '../../core/planning/time/earliest-in-windows.js';
import { timetable } from '../../core/planning/time/timetable.js';
import type { TimetableControl } from '../../core/planning/choose-control.js';
import type { Timetable, TimetablePoint, TimetableSettings } from '../../core/planning/time/timetable.js';
import type { PlanPoint } from '../../core/planning/plan-point.js';
import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PlannedTarget } from './targets/predict-targets.js';

/** The day of one base. */
export interface PlanDay {
  readonly baseId: string;
  readonly timetable: Timetable;
}

/** A work point as the timetable needs it, from its plan: the occupations that reach the tolerance, or the best there are. */
export function timetablePoint(
  { target, remedy, prediction }: PlannedTarget,
  separationS: (baselineM: number) => number,
  windows: readonly WorkWindow[] | undefined,
): TimetablePoint {
  const { occupations, epochs } = remedy.occupations.chosen;
  return {
    id: target.id,
    latitudeDeg: target.latitudeDeg,
    longitudeDeg: target.longitudeDeg,
    occupations,
    occupationS: epochs,
    separationS: separationS(prediction.baselineM),
    ...(windows !== undefined && { windows }),
  };
}

/** What the days are laid out by: each day begins at the same time as the first, and has as many hours. */
export interface PlanDaysSettings extends TimetableSettings {
  /** At most so many days at each base; 1 or more. */
  readonly dayCount: number;
}

const DAY_S = 86_400;

/**
 * The timetables of each base, the first at the same hour for all: bases are worked on different days, or by different parties.
 * What does not fit into a day goes on to the next, as long as there is one; a repeat that does is apart from the day before anyway.
 * Problems: those of `timetable`.
 */
export function planDays(
  geodesic: Geodesic,
  bases: readonly PlanPoint[],
  work: ReadonlyMap<string, readonly TimetablePoint[]>,
  control: readonly TimetableControl[],
  settings: PlanDaysSettings,
): Outcome<readonly PlanDay[]> {
  const days: PlanDay[] = [];
  for (const base of bases) {
    const own = daysOf(geodesic, base, control, work.get(base.id) ?? [], settings);
    if (!own.ok) return own;
    for (const timetable of own.value) days.push({ baseId: base.id, timetable });
  }
  return success(days);
}

function daysOf(
  geodesic: Geodesic,
  base: PlanPoint,
  control: readonly TimetableControl[],
  work: readonly TimetablePoint[],
  { dayCount, ...settings }: PlanDaysSettings,
): Outcome<readonly Timetable[]> {
  const found: Timetable[] = [];
  let left = work;
  while (left.length > 0 && found.length < dayCount) {
    const laterS = DAY_S * found.length;
    const { startS, latestEndS } = settings;
    const hours = { startS: startS + laterS, latestEndS: latestEndS === null ? null : latestEndS + laterS };
    const day = timetable(geodesic, base, control, left, { ...settings, ...hours });
    if (!day.ok) return day;
    const isIdle = !day.value.visits.some(({ role }) => role === 'work' || role === 'repeat');
    // A day of control alone adds nothing: what is left fits into no day.
    if (isIdle && found.length > 0) break;
    found.push(continued(day.value, work, left));
    left = remaining(left, day.value);
    if (isIdle) break;
  }
  return success(found.map((day, place) => (place === found.length - 1 ? day : asNotLast(day))));
}

/** The occupations of a day counted on from those of the days before. */
function continued(day: Timetable, work: readonly TimetablePoint[], left: readonly TimetablePoint[]): Timetable {
  const done = new Map(
    left.map(({ id, occupations }) => [
      id,
      (work.find((point) => point.id === id)?.occupations ?? occupations) - occupations,
    ]),
  );
  // Control is no work, and none of it was done before.
  const before = (pointId: string): number => done.get(pointId) ?? 0;
  return {
    ...day,
    visits: day.visits.map((visit) => {
      const count = before(visit.pointId);
      return count === 0 || visit.role.startsWith('control')
        ? visit
        : { ...visit, role: 'repeat', occupation: visit.occupation + count };
    }),
    leftOut: day.leftOut.map(({ pointId, occupation }) => ({ pointId, occupation: occupation + before(pointId) })),
  };
}

/** What a day leaves of the work. */
function remaining(work: readonly TimetablePoint[], { leftOut }: Timetable): readonly TimetablePoint[] {
  return work.flatMap((point) => {
    const occupations = leftOut.filter(({ pointId }) => pointId === point.id).length;
    return occupations === 0 ? [] : [{ ...point, occupations }];
  });
}

/** A day that another follows: what it leaves is not left out. */
function asNotLast(day: Timetable): Timetable {
  return {
    ...day,
    leftOut: [],
    cautions: day.cautions.filter(({ id }) => !['timetable-left-out', 'timetable-no-window'].includes(id)),
  };
}
