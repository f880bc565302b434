import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { geocentricToLocal } from '../../core/ellipsoid/local-frame.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { PreparedBase } from '../bases/prepare-bases.js';

/** A day of a job with the bases that stood on it. `date`: `2026-05-11`; null: not stated. */
interface BasesOfDay {
  readonly id: string;
  readonly date: string | null;
  readonly bases: readonly PreparedBase[];
}

/** Coordinates and heights of one mark are typed to a tenth of a millimetre; what differs by more was typed otherwise, metres. */
const AS_TYPED_M = 0.0005;
/** Marks of one name this far apart are two, metres. Common practice, no published source. */
const TWO_MARKS_M = 5;
/** Two marks have no room nearer than this, metres. Common practice, no published source. */
const ROOM_OF_A_MARK_M = 0.5;
/** Two coordinates of one mark differ by less than so many sigmas: 99.7 % where they are normal. */
const SIGMAS_APART = 3;

/**
 * Whether what the days of a job say of one base can all be.
 *
 * Given: the days in their order; by day the bases that are known so far, or null; the ellipsoid of their coordinates. Set-ups that all days
 * share are one, and so are those of another name. Problems: base-set-ups-contradict where two set-ups of one name stand at one time on one mark with
 * two antenna heights; base-known-twice where one name has two known coordinates as near as two marks do not stand, and farther apart than
 * their sigmas say, else as a warning; the warning base-set-up-repeated where two days describe one set-up each.
 */
export function basesAgree(
  days: readonly { readonly id: string; readonly date: string | null }[],
  setups: readonly ({ readonly bases: readonly PreparedBase[] } | null)[],
  ellipsoid: Ellipsoid,
): Outcome<null> {
  const problems = problemsOfBases(
    days.map(({ id, date }, index) => ({ id, date, bases: setups[index]?.bases ?? NO_BASES })),
    ellipsoid,
  );
  return problems.some(({ severity }) => severity === 'error') ? failureOf(problems) : success(null, problems);
}

/** Those of a day that is set up when the days before it are reduced. */
const NO_BASES: readonly PreparedBase[] = [];

function problemsOfBases(days: readonly BasesOfDay[], ellipsoid: Ellipsoid): readonly Problem[] {
  const own = days.flatMap(({ id, date, bases }) =>
    bases.filter(({ settings }) => settings.day !== undefined).map((base) => ({ day: id, date, base })),
  );
  const said = new Set<string>();
  return own.flatMap((second, place) => {
    for (const first of own.slice(0, place)) {
      const { id } = second.base.settings;
      if (first.base.settings.id !== id || first.day === second.day) continue;
      const problem = problemOf(first, second, ellipsoid);
      // One is enough of a base and a kind of fault: the days after it have the same.
      if (problem === null || said.has(`${problem.code} ${id}`)) continue;
      said.add(`${problem.code} ${id}`);
      return [problem];
    }
    return [];
  });
}

interface OwnBase {
  readonly day: string;
  readonly date: string | null;
  readonly base: PreparedBase;
}

function problemOf(first: OwnBase, second: OwnBase, ellipsoid: Ellipsoid): Problem | null {
  const apart = apartM(first.base, second.base, ellipsoid);
  const distanceM = Math.hypot(apart.planM, apart.upM);
  if (distanceM > TWO_MARKS_M) return null;
  const { id } = second.base.settings;
  const both = `base ${id} of day ${second.day} and of day ${first.day}`;
  if (standAtOnce(first, second)) {
    const [a, b] = [first.base.antenna, second.base.antenna];
    if (a !== null && b !== null && Math.abs(a.verticalM - b.verticalM) > AS_TYPED_M)
      return errorProblem('base-set-ups-contradict', {
        message: `${both} stand at one time with two antenna heights, ${metres(b.verticalM)} and ${metres(a.verticalM)}`,
        hint: 'an antenna has one height at a time: find out which is right, and describe the base once, in [shared]',
      });
    if (distanceM <= AS_TYPED_M)
      return warningProblem('base-set-up-repeated', {
        message: `${both} are one set-up, and count as two: its centring and antenna height would be taken for new on each`,
        hint: 'describe the base once, in [shared]',
      });
  }
  if (isMeasured(first) || isMeasured(second) || distanceM <= AS_TYPED_M) return null;
  const hint =
    'give the mark one coordinate on all days; a mark of its own gets a name of its own, and its base_id in the fixes';
  const message = `${both} are known at coordinates that are ${metres(apart.planM)} apart in plan and ${metres(apart.upM)} in height`;
  const isSlip = distanceM < ROOM_OF_A_MARK_M && exceedsSigmas(apart, first.base, second.base);
  return isSlip
    ? errorProblem('base-known-twice', { message: `${message}: too near for two marks, too far for one`, hint })
    : warningProblem('base-known-twice', { message, hint });
}

/** Without a known coordinate, or with one that another day gave. */
function isMeasured({ base: { correction, settings } }: OwnBase): boolean {
  return correction === null || settings.knownFrom !== undefined;
}

/** Between what baselines start from, metres. */
function apartM(
  a: PreparedBase,
  b: PreparedBase,
  ellipsoid: Ellipsoid,
): { readonly planM: number; readonly upM: number } {
  const [from, to] = [
    geodeticToGeocentric(a.origin.geodetic, ellipsoid),
    geodeticToGeocentric(b.origin.geodetic, ellipsoid),
  ];
  const { eastM, northM, upM } = geocentricToLocal(a.frame, {
    xM: to.xM - from.xM,
    yM: to.yM - from.yM,
    zM: to.zM - from.zM,
  });
  return { planM: Math.hypot(eastM, northM), upM: Math.abs(upM) };
}

/** Whether two coordinates of one mark are farther apart than their stated sigmas explain. */
function exceedsSigmas(
  { planM, upM }: { readonly planM: number; readonly upM: number },
  { settings: a }: PreparedBase,
  { settings: b }: PreparedBase,
): boolean {
  // Not stated: nothing that could explain a difference.
  const both = (one: number | null, other: number | null): number => SIGMAS_APART * Math.hypot(one ?? 0, other ?? 0);
  return planM > both(a.sigmaHorizontalM, b.sigmaHorizontalM) || upM > both(a.sigmaVerticalM, b.sigmaVerticalM);
}

/** By their windows of time; where neither has one, by the date of the day. */
function standAtOnce(
  { date, base: { settings: a } }: OwnBase,
  { date: other, base: { settings: b } }: OwnBase,
): boolean {
  if (a.fromMs !== null && a.toMs !== null && b.fromMs !== null && b.toMs !== null)
    return a.fromMs < b.toMs && b.fromMs < a.toMs;
  return [a, b].every(({ fromMs, toMs }) => fromMs === null && toMs === null) && date !== null && date === other;
}

function metres(value: number): string {
  return `${formatFixed(value, 3)} m`;
}
