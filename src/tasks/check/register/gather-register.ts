import { largestOf, smallestOf } from '../../../core/numeric/extremes.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { entryAt } from '../../../records/present.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { baseNamed } from '../../bases/choose-base.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import type { NamedPoints } from '../check-points.js';
import { placePoint } from '../compare/check-tolerances-place.js';
import type { CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';
import { dayOfOccupation } from '../../job/occupation-name.js';
import { seenMark } from './seen-marks.js';
import type { SeenMark } from './seen-marks.js';

/** A mark of the control that was measured. */
export interface RegisterMark {
  readonly pointId: string;
  readonly known: PlacedPoint;
}

/** One base set-up of one day, and what was seen of the control from it. */
export interface RegisterSetUp {
  readonly day: string;
  readonly base: PreparedBase;
  /** Occupations by the place of their mark in `GatheredRegister.marks`. */
  readonly seen: ReadonlyMap<number, readonly SeenMark[]>;
  /** Middle of what was seen, milliseconds since 1970-01-01T00:00:00Z; null: not stated. */
  readonly atMs: number | null;
}

/** What a job saw of its control, in the order of time. */
export interface GatheredRegister {
  readonly marks: readonly RegisterMark[];
  readonly setUps: readonly RegisterSetUp[];
  /** Occupations of control that count, and those that the reduction rejected or that have no covariance. */
  readonly used: number;
  readonly leftOut: number;
  readonly firstEpochMs: number | null;
  readonly lastEpochMs: number | null;
}

interface Open {
  readonly day: string;
  readonly base: PreparedBase;
  readonly seen: Map<number, SeenMark[]>;
}

/**
 * The control of a job as each base set-up of each day saw it.
 *
 * Given: occupations of points, named `day/occupation`; control of any role; ids of the days; the setup of a check with the bases of the job.
 * Returned: see `GatheredRegister`. Rejected occupations are left out and counted.
 * Problems: value-duplicate-id for control or an occupation given twice, check-nothing-in-common, value-unknown-id for an occupation of no day of the job or of several; base-unknown where the
 * set-up of an occupation is not described. Warnings: check-height-kinds, check-sigma-assumed.
 */
export function gatherRegister(
  points: NamedPoints,
  control: NamedPoints,
  days: readonly string[],
  setup: CheckSetup,
): Outcome<GatheredRegister> {
  const known = knownMarks(control);
  if (!known.ok) return known;
  const marks: RegisterMark[] = [];
  const places = new Map<string, number>();
  const open = new Map<string, Open>();
  const problems: Problem[] = [];
  const counts = { used: 0, leftOut: 0, heights: 0, assumed: 0 };
  const epochs: number[] = [];
  const met = new Set<string>();
  for (const row of points.points) {
    const own = known.value.get(row.pointId);
    if (own === undefined) continue;
    const stand = met.has(nameOf(row)) ? twice(row, points.name) : standOf(row, days, setup, points.name);
    met.add(nameOf(row));
    if ('code' in stand) {
      problems.push(stand);
      continue;
    }
    const mark = { pointId: row.pointId, known: placePoint(own, setup) };
    const seen = row.verdict === 'rejected' ? null : seenMark(row, mark.known, stand.base, setup);
    if (seen === null) {
      counts.leftOut += 1;
      continue;
    }
    counts.used += 1;
    if (seen.heightsDiffer) counts.heights += 1;
    if (seen.isAssumed) counts.assumed += 1;
    if (row.firstEpochMs !== null && row.lastEpochMs !== null) epochs.push(row.firstEpochMs, row.lastEpochMs);
    const place = places.get(row.pointId) ?? marks.push(mark) - 1;
    places.set(row.pointId, place);
    const key = `${stand.day}\n${stand.base.identity.setupKey}`;
    const setUp = open.get(key) ?? { ...stand, seen: new Map<number, SeenMark[]>() };
    open.set(key, setUp);
    setUp.seen.set(place, [...(setUp.seen.get(place) ?? []), seen]);
  }
  if (problems.length > 0) return failureOf(problems);
  if (marks.length === 0) return failure(nothingInCommon(points, control.name));
  return success(
    {
      marks,
      setUps: inOrder([...open.values()], days),
      used: counts.used,
      leftOut: counts.leftOut,
      firstEpochMs: epochs.length === 0 ? null : smallestOf(epochs),
      lastEpochMs: epochs.length === 0 ? null : largestOf(epochs),
    },
    warningsOf(counts),
  );
}

function knownMarks({ points, name }: NamedPoints): Outcome<ReadonlyMap<string, PointRow>> {
  const known = new Map<string, PointRow>();
  const problems: Problem[] = [];
  for (const row of points) {
    if (known.has(row.pointId))
      problems.push(
        errorProblem('value-duplicate-id', {
          message: `control ${row.pointId} is given twice`,
          where: { source: name, line: row.place.line },
          received: row.pointId,
        }),
      );
    known.set(row.pointId, row);
  }
  return problems.length > 0 ? failureOf(problems) : success(known);
}

/** An occupation of a points file: `reduce-points` numbers those of a point day by day. */
function nameOf({ pointId, occupation }: PointRow): string {
  return `${pointId}@${occupation}`;
}

/** What is measured once and counted twice makes its place look better known than it is. */
function twice(row: PointRow, source: string): Problem {
  return errorProblem('value-duplicate-id', {
    message: `${nameOf(row)} is given twice`,
    where: { source, line: row.place.line },
    received: nameOf(row),
    hint: 'give the points that reduce-points --job writes, each occupation once',
  });
}

/** The day of an occupation and the set-up that it was measured from, or what is wrong with it. */
function standOf(
  row: PointRow,
  days: readonly string[],
  { bases }: CheckSetup,
  source: string,
): { readonly day: string; readonly base: PreparedBase } | Problem {
  const { pointId, occupation, baseId, place } = row;
  const where = { source, line: place.line };
  const day = dayOfOccupation(occupation);
  if (day === null || !days.includes(day))
    return errorProblem('value-unknown-id', {
      message: `${pointId}@${occupation} is of no day of the job, or of several`,
      where,
      received: occupation,
      expected: 'day/occupation',
      hint: 'give the points that reduce-points --job writes without --combine',
    });
  const base = baseNamed(row, bases);
  return base === undefined
    ? errorProblem('base-unknown', {
        message: `the set-up that ${pointId}@${occupation} was measured from is not described by the job`,
        where,
        // A point that names no base shows none.
        received: baseId ?? '',
        hint: 'give the points that reduce-points --job writes, and the same job',
      })
    : { day, base };
}

function nothingInCommon({ points, name: source }: NamedPoints, control: string): Problem {
  return errorProblem('check-nothing-in-common', {
    message: `none of the ${String(points.length)} points of ${source} is in the control with a coordinate that counts`,
    where: { source: control },
    hint: 'the identifiers of both files must agree; rejected occupations do not count',
  });
}

function warningsOf({ heights, assumed }: { readonly heights: number; readonly assumed: number }): readonly Problem[] {
  return [
    heights === 0
      ? null
      : warningProblem('check-height-kinds', {
          message: `heights of ${String(heights)} points are of another kind than the control's and are not compared`,
          hint: 'give --geoid, or a geoid_height_m column',
        }),
    assumed === 0
      ? null
      : warningProblem('check-sigma-assumed', {
          message: 'some points state no sigma; the planning model stands in for it',
          hint: 'use the points file that reduce-points writes',
        }),
  ].filter((warning) => warning !== null);
}

/**
 * By time, whatever the order of the days in the job: what came later decides what has moved. A set-up whose occupations state no
 * time stands at the beginning of its day; a day that states none, with the one before it in the job.
 */
function inOrder(setUps: readonly Open[], days: readonly string[]): readonly RegisterSetUp[] {
  const timed = setUps.map((setUp) => {
    const times = [...setUp.seen.values()].flatMap((seen) => seen.map(({ atMs }) => atMs));
    const stated = times.filter((time) => time !== null);
    const aboutMs = stated.length > 0 ? stated.reduce((sum, time) => sum + time, 0) / stated.length : null;
    return { setUp, day: days.indexOf(setUp.day), aboutMs, atMs: stated.length === times.length ? aboutMs : null };
  });
  const starts: number[] = [];
  for (const day of days.keys()) {
    const own = timed.flatMap((one) => (one.day === day && one.aboutMs !== null ? [one.aboutMs] : []));
    starts.push(own.length > 0 ? smallestOf(own) : (starts.at(-1) ?? -Infinity));
  }
  const whenMs = ({ aboutMs, day }: (typeof timed)[number]): number => aboutMs ?? entryAt(starts, day);
  return timed
    .toSorted((a, b) => (whenMs(a) === whenMs(b) ? a.day - b.day : whenMs(a) - whenMs(b)))
    .map(({ setUp, atMs }): RegisterSetUp => ({ ...setUp, atMs }));
}
