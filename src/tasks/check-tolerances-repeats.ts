import { geodeticToGeocentric } from '../core/geodesy/geocentric.js';
import { geocentricToLocal, localFrameAt } from '../core/geodesy/local-frame.js';
import { combineOccupations } from '../core/observation/combine-occupations.js';
import { repeatTest } from '../core/observation/repeat-test.js';
import type { OccupationEstimate } from '../core/observation/occupation-estimate.js';
import { quadraticForm3 } from '../core/numeric/symmetric3.js';
import { limitVerdicts } from '../core/quality/limit-verdict.js';
import { splitCovariance } from '../core/quality/split-covariance.js';
import { oddOccupation, repeatCause } from '../core/quality/repeat-cause.js';
import type { RepeatCause } from '../core/quality/repeat-cause.js';
import { failure, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import type { LocalVector } from '../records/point.js';
import type { PointRow } from '../records/point-row.js';
import { errorProblem } from '../records/problem.js';
import type { ProblemCode } from '../records/problem-codes.js';
import { groupById, groupByPlace } from './check-tolerances-groups.js';
import { measuredCovariance, placeDifference } from './check-tolerances-difference.js';
import { baseVector, placePoint } from './check-tolerances-place.js';
import { baseNamed } from './choose-base.js';
import type { CheckRow, CheckSetup, CheckVerdict, PlacedPoint } from './check-tolerances-setup.js';

/** Occupations of one point, joined by their full covariance. */
export interface RepeatGroup {
  readonly pointId: string;
  readonly occupations: readonly string[];
  /** Weighted sum of squared residuals; null where an occupation disagrees and nothing is joined. */
  readonly chiSquare: number | null;
  readonly degreesOfFreedom: number;
  /** Where occupations disagree: the likeliest cause, and the occupation that stands alone. */
  readonly cause: RepeatCause | null;
  readonly odd: string | null;
}

/** Misclosure of one point from two bases. */
export interface BaseMisclosure {
  readonly pointId: string;
  readonly bases: readonly [string, string];
  /** Second base minus first, true axes. */
  readonly difference: LocalVector;
  /** wᵀC⁻¹w with 3 degrees of freedom; null where C cannot be inverted. */
  readonly chiSquare: number | null;
  /** Mean of the two baselines. */
  readonly distanceM: number | null;
}

export interface RepeatCheck {
  readonly rows: readonly CheckRow[];
  readonly groups: readonly RepeatGroup[];
  readonly misclosures: readonly BaseMisclosure[];
  readonly single: number;
}

/**
 * Every pair of occupations of a point: difference, its covariance with what time and base share, and the separation
 * asked for. Points are the same by id, or by place within `samePlaceM`.
 * Problems: check-nothing-in-common where no point is repeated; those of `groupByPlace`.
 */
export function checkRepeats(points: readonly PointRow[], samePlaceM: number | null, source: string, setup: CheckSetup): Outcome<RepeatCheck> {
  const placed = points.map((row) => placePoint(row, setup)).filter((point) => point.firstM !== null || point.latitudeDeg !== null);
  const grouped = samePlaceM === null ? success(groupById(placed)) : groupByPlace(placed, samePlaceM, source);
  if (!grouped.ok) return grouped;
  const repeated = grouped.value.filter((group) => group.length > 1);
  if (repeated.length === 0) {
    return failure(errorProblem('check-nothing-in-common', { message: 'no point was occupied twice', where: { source }, hint: samePlaceM === null ? 'points are the same by point_id; give --same-place METRES to match by place' : 'give a larger --same-place, or check the identifiers' }));
  }
  const rows: CheckRow[] = [];
  const groups: RepeatGroup[] = [];
  const misclosures: BaseMisclosure[] = [];
  for (const group of repeated) checkGroup(group, setup, rows, groups, misclosures);
  return success({ rows, groups, misclosures, single: grouped.value.length - repeated.length });
}

function checkGroup(group: readonly PlacedPoint[], setup: CheckSetup, rows: CheckRow[], groups: RepeatGroup[], misclosures: BaseMisclosure[]): void {
  const estimates = group.map((point) => estimateOf(point, group[0] as PlacedPoint, setup));
  const distanceM = Math.max(0, ...estimates.map((estimate) => estimate.baselineM ?? 0));
  const times = setup.precision.at(distanceM, null);
  const disagreeing: [number, number][] = [];
  let cause: RepeatCause | null = null;
  for (let j = 1; j < group.length; j += 1) {
    for (let i = 0; i < j; i += 1) {
      const [first, second, a, b] = [group[i], group[j], estimates[i], estimates[j]];
      if (first === undefined || second === undefined || a === undefined || b === undefined) continue;
      const test = repeatTest(a, b, times);
      const difference = placeDifference(second, first, setup);
      const isPair = first.row.baseId !== null && second.row.baseId !== null && first.row.baseId !== second.row.baseId;
      const limits = limitVerdicts(difference, distanceM, setup.repeatRules);
      const hasUp = difference.upM !== null;
      const hasPlan = difference.firstM !== null && difference.secondM !== null;
      const disagrees = (hasPlan && test.horizontalDisagrees) || (hasUp && test.verticalDisagrees);
      if (disagrees) {
        disagreeing.push([i, j]);
        cause ??= repeatCause({ eastM: test.differenceEastM, northM: test.differenceNorthM, upM: hasUp ? test.differenceUpM : 0 }, test, first.row.poleLengthM, second.row.poleLengthM);
      }
      const reasons: ProblemCode[] = [];
      if (limits.some((limit) => limit.verdict === 'exceeds' && limit.axis !== 'up')) reasons.push('check-horizontal-limit');
      if (limits.some((limit) => limit.verdict === 'exceeds' && limit.axis === 'up')) reasons.push('check-vertical-limit');
      if (limits.some((limit) => limit.verdict === 'not-stated')) reasons.push('check-not-stated');
      if (disagrees) reasons.push('check-repeat-noise');
      if (test.tooSoon === true) reasons.push('check-repeat-too-soon');
      rows.push({
        check: isPair ? 'base-pair' : 'repeat',
        pointId: first.row.pointId,
        occupation: second.row.occupation,
        against: isPair ? `${first.row.occupation} from ${first.row.baseId ?? ''}` : first.row.occupation,
        firstM: difference.firstM,
        secondM: difference.secondM,
        upM: difference.upM,
        heightKind: difference.heightKind,
        alongM: null,
        acrossM: null,
        distanceM: distanceM > 0 ? distanceM : null,
        chainageM: null,
        separationS: test.separationS,
        horizontalStatistic: test.horizontalStatistic,
        verticalStatistic: hasUp ? test.verticalStatistic : null,
        limits,
        verdict: verdictOf(limits, disagrees, test.tooSoon === true),
        reasons,
        measured: second,
        known: first,
        covariance: test.covariance,
        vector: null,
      });
      if (isPair) misclosures.push(misclosureOf(first, second, test, meanOf(a.baselineM, b.baselineM)));
    }
  }
  const joined = disagreeing.length === 0 ? combineOccupations(estimates, times) : null;
  const odd = disagreeing.length === 0 ? null : oddOccupation(group.length, disagreeing);
  groups.push({
    pointId: group[0]?.row.pointId ?? '',
    occupations: group.map((point) => point.row.occupation),
    chiSquare: joined?.chiSquare ?? null,
    degreesOfFreedom: joined?.degreesOfFreedom ?? 0,
    cause,
    odd: odd === null ? null : (group[odd]?.row.occupation ?? null),
  });
}

/** Limits decide where there are any; agreement of occupations too close in time proves nothing. */
function verdictOf(limits: CheckRow['limits'], disagrees: boolean, isTooSoon: boolean): CheckVerdict {
  const exceeds = limits.length > 0 ? limits.some(({ verdict }) => verdict === 'exceeds') : disagrees;
  if (exceeds) return 'exceeds';
  return isTooSoon || limits.some(({ verdict }) => verdict === 'not-stated') ? 'not-stated' : 'within';
}

function misclosureOf(first: PlacedPoint, second: PlacedPoint, test: ReturnType<typeof repeatTest>, distanceM: number | null): BaseMisclosure {
  const c = test.covariance;
  const difference = { eastM: test.differenceEastM, northM: test.differenceNorthM, upM: test.differenceUpM };
  return {
    pointId: first.row.pointId,
    bases: [first.row.baseId ?? '', second.row.baseId ?? ''],
    difference,
    chiSquare: quadraticForm3({ xx: c.eeM2, xy: c.enM2, xz: c.euM2, yy: c.nnM2, yz: c.nuM2, zz: c.uuM2 }, difference.eastM, difference.northM, difference.upM),
    distanceM,
  };
}

function meanOf(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : (a + b) / 2;
}

const NO_BASE = { mark: { horizontalM: 0, verticalM: 0 }, setup: { horizontalM: 0, verticalM: 0 } };

function estimateOf(point: PlacedPoint, origin: PlacedPoint, setup: CheckSetup): OccupationEstimate {
  const vector = baseVector(point, setup);
  const { covariance } = measuredCovariance({ ...point, convergenceDeg: 0 }, vector, setup);
  const base = baseNamed(point.row.baseId, point.row.firstEpochMs, setup.bases);
  const parts = splitCovariance(covariance, vector, setup.precision, base?.identity ?? NO_BASE);
  const setupKey = base?.identity.setupKey ?? point.row.baseId;
  return { position: positionAbout(point, origin, setup), ...parts, markKey: base?.identity.markKey ?? setupKey, setupKey, baselineM: vector.distanceM, startMs: point.row.firstEpochMs, endMs: point.row.lastEpochMs };
}

function positionAbout(point: PlacedPoint, origin: PlacedPoint, setup: CheckSetup): LocalVector {
  const upM = upBetween(point, origin);
  if (point.latitudeDeg === null || point.longitudeDeg === null || origin.latitudeDeg === null || origin.longitudeDeg === null) {
    return { eastM: setup.axes.sign * ((point.firstM ?? 0) - (origin.firstM ?? 0)), northM: setup.axes.sign * ((point.secondM ?? 0) - (origin.secondM ?? 0)), upM };
  }
  const h = origin.ellipsoidalHeightM ?? 0;
  const a = geodeticToGeocentric({ latitudeDeg: point.latitudeDeg, longitudeDeg: point.longitudeDeg, ellipsoidalHeightM: h }, setup.ellipsoid);
  const b = geodeticToGeocentric({ latitudeDeg: origin.latitudeDeg, longitudeDeg: origin.longitudeDeg, ellipsoidalHeightM: h }, setup.ellipsoid);
  const local = geocentricToLocal(localFrameAt(origin.latitudeDeg, origin.longitudeDeg), { xM: a.xM - b.xM, yM: a.yM - b.yM, zM: a.zM - b.zM });
  return { eastM: local.eastM, northM: local.northM, upM };
}

function upBetween(point: PlacedPoint, origin: PlacedPoint): number {
  if (point.orthometricHeightM !== null && origin.orthometricHeightM !== null) return point.orthometricHeightM - origin.orthometricHeightM;
  return point.ellipsoidalHeightM === null || origin.ellipsoidalHeightM === null ? 0 : point.ellipsoidalHeightM - origin.ellipsoidalHeightM;
}
