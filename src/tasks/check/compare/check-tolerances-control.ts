import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { RecordList } from '../../../records/record-list.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { sumCovariance, diagonalCovariance } from '../../../core/observation/uncertainty/local-covariance.js';
import { knownPoints } from './known-points.js';
import { createCheckRows } from '../check-row-packing.js';
import { alongAcross, convergenceAt, measuredCovariance, placeDifference } from './check-tolerances-difference.js';
import { judgeRow, noiseLimits } from '../judge/check-tolerances-judge.js';
import type { UnjudgedRow } from '../judge/check-tolerances-judge.js';
import { otherNames, otherNameStatements } from './other-names.js';
import type { OtherName } from './other-names.js';
import { baseVector, placePoint } from './check-tolerances-place.js';
import type { CheckRow, CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';
import { recordAt } from '../../reduce/packing/packed-records.js';

export interface ControlCheck {
  readonly rows: RecordList<CheckRow>;
  /** Control points that were measured. */
  readonly checkPoints: number;
  /** Measured points that are not in the control. */
  readonly unmatched: number;
  /** Control of role `fit`, left out. */
  readonly fitOnly: number;
  /** Measured points that may be control under another name, and were not compared. */
  readonly otherNames: readonly OtherName[];
}

/**
 * Measured minus known for every measured point that is control, except control of role `fit`. What `settle` makes of a row is kept.
 * Problems: value-duplicate-id for a control named twice; check-nothing-in-common. Warnings: check-height-kinds;
 * check-sigma-assumed.
 */
export function checkControl(
  points: RecordList<PointRow>,
  control: RecordList<PointRow>,
  controlName: string,
  setup: CheckSetup,
  settle: (row: CheckRow) => CheckRow = (row) => row,
): Outcome<ControlCheck> {
  const places = knownPoints(control, controlName, 'control');
  if (!places.ok) return places;
  const known = places.value;
  const fits = fitOnlyOf(control);
  const { matched, fitOnly, checked } = commonOf(points, known, fits);
  const others = otherNames(points, control, known, fits, setup);
  if (matched === fitOnly) return failure(nothingInCommon(points, control, controlName, matched, others));
  let isAssumed = false;
  let kindsDiffer = 0;
  const noise = noiseLimits(matched - fitOnly, setup.axes);
  const rows = createCheckRows(setup);
  for (let index = 0; index < points.length; index += 1) {
    const row = recordAt(points, index);
    const knownIndex = known.get(row.pointId);
    if (knownIndex === undefined || fits[knownIndex] === 1) continue;
    const compared = compare(placePoint(row, setup), placePoint(recordAt(control, knownIndex), setup), setup);
    if (compared.heightsDiffer) kindsDiffer += 1;
    if (compared.isAssumed) isAssumed = true;
    const unjudged = compared.row;
    const judged =
      row.verdict === 'rejected' && unjudged.firstM === null && unjudged.upM === null
        ? withoutCoordinate(unjudged)
        : judgeRow(unjudged, setup.controlRules, noise);
    rows.push(settle(judged), { points, index }, { points: control, index: knownIndex });
  }
  return success(
    { rows: rows.rows, checkPoints: checked, unmatched: points.length - matched, fitOnly, otherNames: others },
    comparisonWarnings(kindsDiffer, isAssumed),
  );
}

/** 1 for each control point of role `fit`. */
function fitOnlyOf(control: RecordList<PointRow>): Uint8Array {
  const fits = new Uint8Array(control.length);
  let index = 0;
  for (const { role } of control) {
    if (role === 'fit') fits[index] = 1;
    index += 1;
  }
  return fits;
}

/** How many points are in the control, how many of those only fit, and how many different ones are checked. */
function commonOf(
  points: RecordList<PointRow>,
  known: ReadonlyMap<string, number>,
  fits: Uint8Array,
): { readonly matched: number; readonly fitOnly: number; readonly checked: number } {
  let [matched, fitOnly, checked] = [0, 0, 0];
  const isChecked = new Uint8Array(fits.length);
  for (const { pointId } of points) {
    const index = known.get(pointId);
    if (index === undefined) continue;
    matched += 1;
    if (fits[index] === 1) fitOnly += 1;
    else if (isChecked[index] === 0) {
      isChecked[index] = 1;
      checked += 1;
    }
  }
  return { matched, fitOnly, checked };
}

function nothingInCommon(
  points: RecordList<PointRow>,
  control: RecordList<PointRow>,
  source: string,
  matched: number,
  others: readonly OtherName[],
): Problem {
  const [said] = otherNameStatements(others, 'control');
  return errorProblem('check-nothing-in-common', {
    message:
      matched > 0
        ? `all control in common is of role fit, and what fits does not check`
        : `none of the ${String(points.length)} points is in the control`,
    where: { source },
    hint:
      matched > 0
        ? 'mark some control with role check and leave it out of the fit'
        : `points: ${ids(points)}; control: ${ids(control)}${said === undefined ? '' : `; ${said.text}`}`,
  });
}

function comparisonWarnings(kindsDiffer: number, isAssumed: boolean): readonly Problem[] {
  const warnings: Problem[] = [];
  if (kindsDiffer > 0)
    warnings.push(
      warningProblem('check-height-kinds', {
        message: `heights of ${String(kindsDiffer)} points are of another kind than the control's and are not compared`,
        hint: 'give --geoid, or a geoid_height_m column',
      }),
    );
  if (isAssumed)
    warnings.push(
      warningProblem('check-sigma-assumed', {
        message: 'some points state no sigma; the planning model stands in for it',
        hint: 'use the points file that reduce-points writes',
      }),
    );
  return warnings;
}

/** One comparison before it is judged; whether both sides have heights that nothing joins, and whether the covariance is the planning model's. */
function compare(
  measured: PlacedPoint,
  place: PlacedPoint,
  setup: CheckSetup,
): { readonly row: UnjudgedRow; readonly heightsDiffer: boolean; readonly isAssumed: boolean } {
  const { row } = measured;
  // From the known place: a measured one may be wrong by anything.
  const vector = baseVector(measured, setup, place);
  const own = {
    distanceM: vector.distanceM ?? row.baselineM,
    azimuthDeg: vector.azimuthDeg ?? row.baselineAzimuthDeg,
    heightDifferenceM: vector.heightDifferenceM ?? row.baselineHeightDifferenceM,
  };
  const difference = placeDifference(measured, place, setup);
  const { alongM, acrossM } = alongAcross(difference, own, convergenceAt(place, own), setup.axes.signs);
  const { covariance, isAssumed } = measuredCovariance(measured, own, setup);
  // Not stated: it adds nothing, and the summary says what is missing.
  const horizontalM2 = (place.row.sigmaHorizontalM ?? 0) ** 2;
  // Not stated: it adds nothing, and the summary says what is missing.
  const geoidM2 = difference.heightKind === 'orthometric' ? (setup.geoidSigmaM ?? 0) ** 2 : 0;
  // Not stated: it adds nothing, and the summary says what is missing.
  const verticalM2 = (place.row.sigmaVerticalM ?? 0) ** 2 + geoidM2;
  return {
    row: {
      check: 'control',
      pointId: row.pointId,
      occupation: row.occupation,
      against: place.row.source === '' ? 'control' : place.row.source,
      firstM: difference.firstM,
      secondM: difference.secondM,
      upM: difference.upM,
      heightKind: difference.heightKind,
      alongM,
      acrossM,
      distanceM: own.distanceM,
      chainageM: null,
      separationS: null,
      measured,
      known: place,
      covariance:
        covariance === null
          ? null
          : sumCovariance(covariance, diagonalCovariance(horizontalM2, horizontalM2, verticalM2)),
      vector: own,
    },
    heightsDiffer: difference.heightsDiffer,
    isAssumed: isAssumed && covariance !== null,
  };
}

function withoutCoordinate(row: UnjudgedRow): CheckRow {
  return {
    ...row,
    limits: [],
    horizontalStatistic: null,
    verticalStatistic: null,
    verdict: 'not-stated',
    reasons: ['check-no-coordinate'],
  };
}

function ids(rows: Iterable<PointRow>): string {
  const names = [...new Set(Array.from(rows, (row) => row.pointId))];
  return `${names.slice(0, 8).join(', ')}${names.length > 8 ? ', …' : ''}`;
}
