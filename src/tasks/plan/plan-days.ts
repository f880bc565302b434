import { timetable } from '../../core/planning/time/timetable.js';
import type { TimetableControl } from '../../core/planning/choose-control.js';
import type { Timetable, TimetablePoint, TimetableSettings } from '../../core/planning/time/timetable.js';
import type { PlanPoint } from '../../core/planning/plan-point.js';
import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PlannedTarget } from './predict-targets.js';

/** The day of one base. */
export interface PlanDay {
  readonly baseId: string;
  readonly timetable: Timetable;
}

/** A work point as the timetable needs it, from its plan: the occupations that reach the tolerance, or the best there are. */
export function timetablePoint(
  { target, remedy, prediction }: PlannedTarget,
  separationS: (baselineM: number) => number,
): TimetablePoint {
  const { occupations, epochs } = remedy.occupations.chosen;
  return {
    id: target.id,
    latitudeDeg: target.latitudeDeg,
    longitudeDeg: target.longitudeDeg,
    occupations,
    occupationS: epochs,
    separationS: separationS(prediction.baselineM),
  };
}

/**
 * One timetable for each base, each beginning at the same hour: bases are worked on different days, or by
 * different parties.
 * Problems: those of `timetable`.
 */
export function planDays(
  geodesic: Geodesic,
  bases: readonly PlanPoint[],
  work: ReadonlyMap<string, readonly TimetablePoint[]>,
  control: readonly TimetableControl[],
  settings: TimetableSettings,
): Outcome<readonly PlanDay[]> {
  const days: PlanDay[] = [];
  for (const base of bases) {
    const own = work.get(base.id) ?? [];
    if (own.length === 0) continue;
    const day = timetable(geodesic, base, control, own, settings);
    if (!day.ok) return day;
    days.push({ baseId: base.id, timetable: day.value });
  }
  return success(days);
}
