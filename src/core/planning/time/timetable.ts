import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Geodesic } from '../../ellipsoid/geodesic.js';
import type { Caution } from '../caution.js';
import { chooseControl } from '../choose-control.js';
import { earliestInWindows } from './earliest-in-windows.js';
import { timetableCautions } from './timetable-cautions.js';
import type { WorkWindow } from './earliest-in-windows.js';
import type { ChosenControl, TimetableControl } from '../choose-control.js';
import type { PlanPlace } from '../plan-point.js';

/** A work point and the occupations planned for it. */
export interface TimetablePoint extends PlanPlace {
  readonly id: string;
  readonly occupations: number;
  /** Length of one occupation, seconds. */
  readonly occupationS: number;
  /** From the end of one occupation to the start of the next, seconds, at least. */
  readonly separationS: number;
  /** Times in which an occupation must lie whole; absent: any time. */
  readonly windows?: readonly WorkWindow[];
}

export interface TimetableSettings {
  /** Seconds since any origin, for example the start of the day in UTC. */
  readonly startS: number;
  /** Visits that would end later are left out and listed; null: no limit. */
  readonly latestEndS: number | null;
  /** Set-up of the base before the first drive, seconds. */
  readonly baseSetupS: number;
  /** Time at a point beside the occupation itself, seconds. */
  readonly overheadS: number;
  readonly controlOccupationS: number;
  readonly averageSpeedKmh: number;
  /** Road length over geodesic distance, at least 1. */
  readonly detourFactor: number;
}

export type VisitRole = 'control-first' | 'control-middle' | 'control-last' | 'work' | 'repeat';

export interface Visit {
  readonly sequence: number;
  readonly pointId: string;
  readonly role: VisitRole;
  /** 1 for the first occupation of the point. */
  readonly occupation: number;
  /** From the place before, along the road as reckoned. */
  readonly driveM: number;
  readonly driveS: number;
  readonly arriveS: number;
  /** Waiting for the separation from the occupation before, or for a window. */
  readonly waitS: number;
  readonly startS: number;
  readonly endS: number;
}

export interface Timetable {
  readonly visits: readonly Visit[];
  /** What did not fit before the latest end. */
  readonly leftOut: readonly { readonly pointId: string; readonly occupation: number }[];
  readonly driveM: number;
  readonly endS: number;
  readonly cautions: readonly Caution[];
}

interface Task {
  readonly point: TimetablePoint;
  occupation: number;
  notBeforeS: number;
}

interface Day {
  readonly geodesic: Geodesic;
  readonly settings: TimetableSettings;
  readonly visits: Visit[];
  at: PlanPlace;
  nowS: number;
}

/**
 * A day's timetable, the same for the same input: control first, work with repeats, control when
 * half of the occupations are done, control last.
 *
 * Given: geodesic calculator; base, control and work points, degrees; settings. Returned: see
 * `Timetable`. The rule for the next visit: whichever can start first, counting the drive, for a
 * repeat the separation, and the windows of the point where it has some; of equals a repeat, then the lower identifier. First and last control is the one nearest
 * the base; the middle one is the nearest of those beyond the farthest work point, else the
 * farthest. Driving time is geodesic distance × detour factor / speed: a draft for people to change,
 * not a route.
 * Problems: no work points (value-missing); a setting out of range (config-invalid-value).
 */
export function timetable(
  geodesic: Geodesic,
  base: PlanPlace,
  control: readonly TimetableControl[],
  work: readonly TimetablePoint[],
  settings: TimetableSettings,
): Outcome<Timetable> {
  if (work.length === 0)
    return failure(errorProblem('value-missing', { message: 'there are no work points to visit' }));
  const { averageSpeedKmh, detourFactor, overheadS, baseSetupS, controlOccupationS } = settings;
  if (!(averageSpeedKmh > 0 && detourFactor >= 1 && overheadS >= 0 && baseSetupS >= 0 && controlOccupationS >= 0)) {
    return failure(
      errorProblem('config-invalid-value', {
        message: `an average speed of ${String(averageSpeedKmh)} km/h with a detour factor of ${String(detourFactor)} and the times given cannot be driven`,
        expected: 'a speed above 0, a detour factor of at least 1, times of at least 0',
      }),
    );
  }
  const chosen = chooseControl(geodesic, base, control, work);
  const day: Day = { geodesic, settings, visits: [], at: base, nowS: settings.startS + baseSetupS };
  if (chosen !== null) visitControl(day, chosen.near, 'control-first', 1);
  const { leftOut, middleDone, withoutWindow } = visitWork(day, work, chosen);
  if (chosen !== null) {
    if (!middleDone && chosen.beyond !== chosen.near) visitControl(day, chosen.beyond, 'control-middle', 1);
    visitControl(
      day,
      chosen.near,
      'control-last',
      day.visits.filter(({ pointId }) => pointId === chosen.near.id).length + 1,
    );
  }
  return success({
    visits: day.visits,
    leftOut,
    driveM: day.visits.reduce((sum, { driveM }) => sum + driveM, 0),
    endS: day.nowS,
    cautions: timetableCautions(chosen, { leftOut: leftOut.length, withoutWindow }, settings, day.nowS),
  });
}

/** The work with its repeats, and the control in the middle of it; says whether the day came so far. */
function visitWork(
  day: Day,
  work: readonly TimetablePoint[],
  chosen: ChosenControl | null,
): Pick<Timetable, 'leftOut'> & { readonly middleDone: boolean; readonly withoutWindow: number } {
  const tasks = new Set(
    work
      .filter(({ occupations }) => occupations > 0)
      .map((point): Task => ({ point, occupation: 1, notBeforeS: -Infinity })),
  );
  const all = work.reduce((sum, { occupations }) => sum + Math.max(0, occupations), 0);
  const leftOut: { readonly pointId: string; readonly occupation: number }[] = [];
  let done = 0;
  let middleDone = false;
  let withoutWindow = 0;
  while (tasks.size > 0) {
    if (chosen !== null && !middleDone && done * 2 >= all) {
      visitControl(day, chosen.beyond, 'control-middle', chosen.beyond === chosen.near ? 2 : 1);
      middleDone = true;
      continue;
    }
    const task = nextTask(day, tasks);
    if (!fits(day, task, chosen === null ? [] : middleDone ? [chosen.near] : [chosen.beyond, chosen.near])) {
      tasks.delete(task);
      if (startOf(day, task) === Infinity) withoutWindow += task.point.occupations - task.occupation + 1;
      for (let o = task.occupation; o <= task.point.occupations; o += 1)
        leftOut.push({ pointId: task.point.id, occupation: o });
      continue;
    }
    const { point, occupation } = task;
    const { endS } = visit(
      day,
      point,
      point.id,
      occupation > 1 ? 'repeat' : 'work',
      occupation,
      point.occupationS,
      task.notBeforeS,
      point.windows,
    );
    done += 1;
    if (occupation >= point.occupations) tasks.delete(task);
    else {
      task.occupation += 1;
      task.notBeforeS = endS + point.separationS;
    }
  }
  return { leftOut, middleDone, withoutWindow };
}

/** Drive to a place, and when an occupation there could start. */
function legTo(
  day: Day,
  place: PlanPlace,
  notBeforeS: number,
  lengthS: number,
  windows: readonly WorkWindow[] | undefined,
): { readonly driveM: number; readonly driveS: number; readonly arriveS: number; readonly startS: number } {
  const { detourFactor, averageSpeedKmh, overheadS } = day.settings;
  const driveM =
    detourFactor *
    day.geodesic.distanceM(day.at.latitudeDeg, day.at.longitudeDeg, place.latitudeDeg, place.longitudeDeg);
  const driveS = driveM / (averageSpeedKmh / 3.6);
  const arriveS = day.nowS + driveS;
  const startS = earliestInWindows(Math.max(arriveS + overheadS, notBeforeS), lengthS, windows);
  return { driveM, driveS, arriveS, startS };
}

/** When a task could start; Infinity: in none of its windows. */
function startOf(day: Day, { point, notBeforeS }: Task): number {
  return legTo(day, point, notBeforeS, point.occupationS, point.windows).startS;
}

/** Of one task or more, the one that comes next. */
function nextTask(day: Day, tasks: ReadonlySet<Task>): Task {
  let best: Task | null = null;
  let earliestS = Infinity;
  for (const task of tasks) {
    const startS = startOf(day, task);
    if (best === null || startS < earliestS || (startS === earliestS && comesBefore(task, best))) {
      best = task;
      earliestS = startS;
    }
  }
  return best as unknown as Task;
}

function comesBefore(a: Task, b: Task): boolean {
  if (a.occupation > 1 !== b.occupation > 1) return a.occupation > 1;
  return a.point.id < b.point.id;
}

/** Whether a task can be done and the control still to come be reached before the latest end. */
function fits(day: Day, task: Task, controlToCome: readonly TimetableControl[]): boolean {
  const { latestEndS, controlOccupationS } = day.settings;
  const startS = startOf(day, task);
  if (startS === Infinity) return false;
  if (latestEndS === null) return true;
  let after: Day = {
    ...day,
    at: task.point,
    nowS: startS + task.point.occupationS,
  };
  for (const control of controlToCome)
    after = {
      ...day,
      at: control,
      nowS: legTo(after, control, -Infinity, controlOccupationS, undefined).startS + controlOccupationS,
    };
  return after.nowS <= latestEndS;
}

function visitControl(day: Day, point: TimetableControl, role: VisitRole, occupation: number): void {
  visit(day, point, point.id, role, occupation, day.settings.controlOccupationS, -Infinity);
}

function visit(
  day: Day,
  place: PlanPlace,
  pointId: string,
  role: VisitRole,
  occupation: number,
  lengthS: number,
  notBeforeS: number,
  windows?: readonly WorkWindow[],
): Visit {
  const { driveM, driveS, arriveS, startS } = legTo(day, place, notBeforeS, lengthS, windows);
  const made: Visit = {
    sequence: day.visits.length + 1,
    pointId,
    role,
    occupation,
    driveM,
    driveS,
    arriveS,
    waitS: startS - arriveS - day.settings.overheadS,
    startS,
    endS: startS + lengthS,
  };
  day.visits.push(made);
  day.at = place;
  day.nowS = made.endS;
  return made;
}
