import { groundFarProblem, groundSpreadProblem } from '../../core/grid/factors/ground-factor-spread.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { PlaceRow } from '../../records/points/place-row.js';
import type { Problem } from '../../records/problem.js';
import { createAreaWatch } from './area-watch.js';
import { composeTransform } from './compose-transform.js';
import type { WatchLeg } from './compose-transform.js';
import { emptyPointOnTheWay } from './point-on-the-way.js';
import type { PointOnTheWay } from './point-on-the-way.js';
import type { PlannedEnd } from './plan-end.js';
import type { PlannedTransform } from './plan-transform.js';
import { wayOf } from './step.js';

/** Hands on a problem of the row in hand, without its place in the file. */
export type TellOfRow = (problem: Problem) => void;

/** A transformation at work on the rows of a file. */
export interface TransformRun {
  /** The row carried over, in one record that serves the whole run; null where what was told refuses it. */
  readonly carry: (row: PlaceRow, tell: TellOfRow) => PointOnTheWay | null;
  /**
   * The same of a row of which nothing is to be said or kept; null of any other, which `carry` is to be given. Only the record is
   * changed by it. No such way: something is kept of every row.
   */
  readonly carryQuietly: ((row: PlaceRow) => PointOnTheWay | null) | null;
  /** After the last row: lines for people, those of them about areas, and the refusal of the whole if there is one. */
  readonly end: () => {
    readonly lines: readonly string[];
    readonly outside: readonly string[];
    readonly problem: Problem | null;
  };
}

/** Carries rows by a planned transformation, and watches what only the whole file shows: areas, ground scale, reach of a site. */
export function createTransformRun(planned: PlannedTransform, watch: WatchLeg | null = null): TransformRun {
  const { plan, end } = planned;
  const { change, from, to } = plan;
  const carry = composeTransform(plan, watch);
  const point = emptyPointOnTheWay();
  const isOffGrid = change.some((leg) => wayOf(leg).needs === 'plane');
  const watchesZone = from.kind === 'projected' && !isOffGrid && from.name !== to.name;
  const areas = createAreaWatch(watchesZone ? from : null, to, planned.watched);
  const reach: SiteReach = { beyond: 0, farthestM: 0 };
  // Of a site no point beyond its buffer is kept.
  const mostOutsideM = end?.site?.bufferM ?? Number.POSITIVE_INFINITY;
  // What a site says of a point does not name it.
  const named = (row: PlaceRow, problem: Problem): Problem =>
    end?.kind === 'site' ? { ...problem, message: `${row.pointId}: ${problem.message}` } : problem;
  return {
    carryQuietly:
      end?.spread != null || watch !== null
        ? null
        : (row) => {
            if (carry(row, point) !== null || point.isOutsideArea || point.doubts.length > 0) return null;
            const isFar = point.site !== null && !(point.site.outsideM <= mostOutsideM);
            return isFar || !areas.isInside(point) ? null : point;
          },
    carry(row, tell) {
      const refused = carry(row, point);
      if (refused !== null) {
        tell(named(row, refused));
        return null;
      }
      for (const doubt of point.doubts) tell(named(row, doubt));
      const warning = areas.check(row, point);
      if (warning !== null) tell(warning);
      end?.spread?.add(point.gridFirst, point.gridSecond, point.gridHeightM, row.pointId);
      if (end?.site != null && point.site !== null) watchReach(reach, point.site.outsideM, end.site.bufferM);
      return point;
    },
    end() {
      const ground = groundVerdict(end);
      if (ground.problem !== null) return { ...ground, outside: [] };
      const outside = areas.summary();
      return { lines: [...ground.lines, ...reachLines(reach), ...outside], outside, problem: null };
    },
  };
}

/** How far the points of a run lie outside the control of the site: how many beyond its buffer, and the farthest. */
interface SiteReach {
  beyond: number;
  farthestM: number;
}

function watchReach(reach: SiteReach, outsideM: number, bufferM: number): void {
  if (outsideM > bufferM) reach.beyond += 1;
  if (outsideM > reach.farthestM) reach.farthestM = outsideM;
}

function reachLines({ beyond, farthestM }: SiteReach): readonly string[] {
  if (beyond === 0) return [];
  return [
    `${String(beyond)} of them beyond the buffer of the site, up to ${formatFixed(farthestM, 1)} m outside its control: the sigma of the site stands beside each, and nothing checks it there`,
  ];
}

function worstWords(worstId: string | null): string {
  return `worst point against the scale${worstId === null ? '' : `, ${worstId}`}`;
}

function groundVerdict(end: PlannedEnd | null): {
  readonly lines: readonly string[];
  readonly problem: Problem | null;
} {
  const result = end?.spread?.result() ?? null;
  if (result === null || end?.spread == null) return { lines: [], problem: null };
  const without = end.spread.withoutHeight();
  const lines = [
    `combined factor over the job: ${formatFixed(result.minimum, 9)} to ${formatFixed(result.maximum, 9)}, a spread of ${formatFixed(result.spreadPpm, 2)} ppm; over its extent of ${formatFixed(result.extentM / 1000, 3)} km that is ${formatFixed(result.spreadMm, 1)} mm`,
    `${worstWords(end.spread.worstId())}: ${formatFixed(result.worstPpm, 2)} ppm, ${formatFixed(result.worstMm, 1)} mm over the extent`,
    ...(without === 0
      ? []
      : [
          `${String(without)} ${without === 1 ? 'point has' : 'points have'} no ellipsoidal height: that of --ground-at stood in, so the spread may be larger; --from-height orthometric --to-height ellipsoidal with --geoid would supply it`,
        ]),
  ];
  const far = groundFarProblem(end.spread.nearestM(), result.worstPpm);
  return { lines, problem: far ?? (end.toleranceM === null ? null : groundSpreadProblem(result, end.toleranceM)) };
}
