import { failure, failureOf, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import type { PointRow } from '../records/point-row.js';
import { errorProblem, warningProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import { sumCovariance, diagonalCovariance } from '../core/observation/local-covariance.js';
import { alongAcross, measuredCovariance, placeDifference } from './check-tolerances-difference.js';
import { judgeRow, noiseLimits } from './check-tolerances-judge.js';
import type { UnjudgedRow } from './check-tolerances-judge.js';
import { baseVector, placePoint } from './check-tolerances-place.js';
import type { CheckRow, CheckSetup } from './check-tolerances-setup.js';

export interface ControlCheck {
  readonly rows: readonly CheckRow[];
  /** Measured points that are not in the control. */
  readonly unmatched: number;
  /** Control of role `fit`, left out. */
  readonly fitOnly: number;
}

/**
 * Measured minus known for every measured point that is control, except control of role `fit`.
 * Problems: value-duplicate-id for a control named twice; check-nothing-in-common. Warnings: check-height-kinds;
 * check-sigma-assumed.
 */
export function checkControl(points: readonly PointRow[], control: readonly PointRow[], controlName: string, setup: CheckSetup): Outcome<ControlCheck> {
  const known = new Map<string, PointRow>();
  const problems: Problem[] = [];
  for (const row of control) {
    if (known.has(row.pointId)) problems.push(errorProblem('value-duplicate-id', { message: `control ${row.pointId} is given twice`, where: { source: controlName, line: row.place.line }, received: row.pointId }));
    known.set(row.pointId, row);
  }
  if (problems.length > 0) return failureOf(problems);
  const matched = points.filter((point) => known.has(point.pointId));
  const checks = matched.filter((point) => known.get(point.pointId)?.role !== 'fit');
  if (checks.length === 0) {
    return failure(
      errorProblem('check-nothing-in-common', {
        message: matched.length > 0 ? `all control in common is of role fit, and what fits does not check` : `none of the ${String(points.length)} points is in the control`,
        where: { source: controlName },
        hint: matched.length > 0 ? 'mark some control with role check and leave it out of the fit' : `points: ${ids(points)}; control: ${ids(control)}`,
      }),
    );
  }
  const warnings: Problem[] = [];
  let isAssumed = false;
  let kindsDiffer = 0;
  const rows = checks.map((row): UnjudgedRow => {
    const knownRow = known.get(row.pointId) as PointRow;
    const measured = placePoint(row, setup);
    const place = placePoint(knownRow, setup);
    // From the known place: a measured one may be wrong by anything.
    const vector = baseVector(place.latitudeDeg === null ? measured : { ...measured, latitudeDeg: place.latitudeDeg, longitudeDeg: place.longitudeDeg, ellipsoidalHeightM: place.ellipsoidalHeightM ?? measured.ellipsoidalHeightM }, setup);
    const own = { distanceM: vector.distanceM ?? row.baselineM, azimuthDeg: vector.azimuthDeg ?? row.baselineAzimuthDeg, heightDifferenceM: vector.heightDifferenceM ?? row.baselineHeightDifferenceM };
    const difference = placeDifference(measured, place, setup);
    if (difference.heightsDiffer) kindsDiffer += 1;
    const { covariance, isAssumed: assumed } = measuredCovariance(measured, own, setup);
    if (assumed && covariance !== null) isAssumed = true;
    const horizontalM2 = (knownRow.sigmaHorizontalM ?? 0) ** 2;
    const geoidM2 = difference.heightKind === 'orthometric' ? (setup.geoidSigmaM ?? 0) ** 2 : 0;
    const verticalM2 = (knownRow.sigmaVerticalM ?? 0) ** 2 + geoidM2;
    return {
      check: 'control',
      pointId: row.pointId,
      occupation: row.occupation,
      against: knownRow.source === '' ? 'control' : knownRow.source,
      firstM: difference.firstM,
      secondM: difference.secondM,
      upM: difference.upM,
      heightKind: difference.heightKind,
      ...alongAcross(difference, own, place.convergenceDeg, setup.axes.sign),
      distanceM: own.distanceM,
      chainageM: null,
      separationS: null,
      measured,
      known: place,
      covariance: covariance === null ? null : sumCovariance(covariance, diagonalCovariance(horizontalM2, horizontalM2, verticalM2)),
      vector: own,
    };
  });
  if (kindsDiffer > 0) warnings.push(warningProblem('check-height-kinds', { message: `heights of ${String(kindsDiffer)} points are of another kind than the control's and are not compared`, hint: 'give --geoid, or a geoid_height_m column' }));
  if (isAssumed) warnings.push(warningProblem('check-sigma-assumed', { message: 'some points state no sigma; the planning model stands in for it', hint: 'use the points file that reduce-points writes' }));
  const noise = noiseLimits(rows.length);
  const judged = rows.map((row) => (row.measured?.row.verdict === 'rejected' && row.firstM === null && row.upM === null ? withoutCoordinate(row) : judgeRow(row, setup.controlRules, noise)));
  return success({ rows: judged, unmatched: points.length - matched.length, fitOnly: matched.length - checks.length }, warnings);
}

function withoutCoordinate(row: UnjudgedRow): CheckRow {
  return { ...row, limits: [], horizontalStatistic: null, verticalStatistic: null, verdict: 'not-stated', reasons: ['check-no-coordinate'] };
}

function ids(rows: readonly PointRow[]): string {
  const names = [...new Set(rows.map((row) => row.pointId))];
  return `${names.slice(0, 8).join(', ')}${names.length > 8 ? ', …' : ''}`;
}
