import { constantLimit } from '../../../core/quality/standards/limit-rule.js';
import type { LimitRule } from '../../../core/quality/standards/limit-rule.js';
import { offsetsFromLine } from '../../../core/quality/offset-from-line.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { RecordList } from '../../../records/record-list.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { knownPoints } from './known-points.js';
import { createCheckRows } from '../check-row-packing.js';
import { alongAcross, convergenceAt, measuredCovariance, placeDifference } from './check-tolerances-difference.js';
import { judgeRow, noiseLimits } from '../judge/check-tolerances-judge.js';
import { otherNames, otherNameStatements } from './other-names.js';
import type { OtherName } from './other-names.js';
import { baseVector, placePoint } from './check-tolerances-place.js';
import type { CheckRow, CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';
import { recordAt } from '../../reduce/packing/packed-records.js';
import { countOf } from '../../reduce/record-search.js';
import { entryAt, present } from '../../../records/present.js';

export interface DesignCheck {
  readonly rows: RecordList<CheckRow>;
  /** Design points that were not measured. */
  readonly missing: readonly string[];
  /** Measured points that may be of the design under another name, and were not compared. */
  readonly otherNames: readonly OtherName[];
}

/**
 * Measured minus design, point by point, against the tolerance of each and the rules for design. What `settle` makes of a row is kept.
 * Problems: value-duplicate-id; check-nothing-in-common.
 */
export function checkDesign(
  points: RecordList<PointRow>,
  design: RecordList<PointRow>,
  designName: string,
  setup: CheckSetup,
  settle: (row: CheckRow) => CheckRow = (row) => row,
): Outcome<DesignCheck> {
  const places = knownPoints(design, designName, 'design point');
  if (!places.ok) return places;
  const known = places.value;
  const built = new Set<string>();
  let count = 0;
  for (const { pointId } of points) {
    if (!known.has(pointId)) continue;
    built.add(pointId);
    count += 1;
  }
  const others = otherNames(points, design, known, null, setup);
  if (count === 0) return failure(noneMeasured(designName, others));
  const noise = noiseLimits(count, setup.axes);
  const rows = createCheckRows(setup);
  for (let index = 0; index < points.length; index += 1) {
    const row = recordAt(points, index);
    const knownIndex = known.get(row.pointId);
    if (knownIndex === undefined) continue;
    const measured = placePoint(row, setup);
    const place = placePoint(recordAt(design, knownIndex), setup);
    const vector = baseVector(measured, setup);
    const difference = placeDifference(measured, place, setup);
    const { covariance } = measuredCovariance(measured, vector, setup);
    const own = tolerances(place.row);
    const judged = judgeRow(
      {
        check: 'design',
        pointId: row.pointId,
        occupation: row.occupation,
        against: place.row.source === '' ? 'design' : place.row.source,
        firstM: difference.firstM,
        secondM: difference.secondM,
        upM: difference.upM,
        heightKind: difference.heightKind,
        ...alongAcross(difference, vector, convergenceAt(measured, vector), setup.axes.signs),
        distanceM: vector.distanceM,
        chainageM: null,
        separationS: null,
        measured,
        known: place,
        covariance,
        vector,
      },
      [...own, ...setup.designRules],
      noise,
    );
    rows.push(settle(withUnmet(judged, own)), { points, index }, { points: design, index: knownIndex });
  }
  return success({ rows: rows.rows, missing: [...known.keys()].filter((id) => !built.has(id)), otherNames: others });
}

function noneMeasured(source: string, others: readonly OtherName[]): Problem {
  const [said] = otherNameStatements(others, 'design');
  return errorProblem('check-nothing-in-common', {
    message: 'no design point was measured',
    where: { source },
    hint: `points are matched by point_id; give --line where the design is a line${said === undefined ? '' : `; ${said.text}`}`,
  });
}

function hasPair({ firstM, secondM }: PlacedPoint): boolean {
  return firstM !== null && secondM !== null;
}

/**
 * Measured points against a line through the design points in the order of the file: chainage, offset to the right, and
 * height over the line. The tolerance of a segment is that of its first point. What `settle` makes of a row is kept.
 * Problems: check-too-few-rows for a line of fewer than two points, or points without grid values.
 */
export function checkLine(
  points: RecordList<PointRow>,
  design: RecordList<PointRow>,
  designName: string,
  setup: CheckSetup,
  settle: (row: CheckRow) => CheckRow = (row) => row,
): Outcome<DesignCheck> {
  const [eastSign, northSign] = setup.axes.signs;
  const vertices = Array.from(design, (row) => placePoint(row, setup));
  if (vertices.length < 2 || vertices.some((vertex) => vertex.firstM === null || vertex.secondM === null)) {
    return failure(
      errorProblem('check-too-few-rows', {
        message: `a line needs two points or more with grid coordinates, and ${designName} gives ${String(vertices.filter((vertex) => vertex.firstM !== null).length)}`,
        where: { source: designName },
      }),
    );
  }
  const placed = countOf(points, (row) => hasPair(placePoint(row, setup)));
  const noise = noiseLimits(placed, setup.axes);
  const kind = vertices.every((vertex) => vertex.orthometricHeightM !== null)
    ? 'orthometric'
    : vertices.every((vertex) => vertex.ellipsoidalHeightM !== null)
      ? 'ellipsoidal'
      : null;
  const heightOf = (point: PlacedPoint): number | null =>
    kind === null ? null : kind === 'orthometric' ? point.orthometricHeightM : point.ellipsoidalHeightM;
  const line = vertices.map((vertex) => ({
    eastM: eastSign * present(vertex.firstM, 'firstM'),
    northM: northSign * present(vertex.secondM, 'secondM'),
    heightM: heightOf(vertex),
  }));
  const offsetOf = offsetsFromLine(line);
  const rows = createCheckRows(setup);
  for (let index = 0; index < points.length; index += 1) {
    const measured = placePoint(recordAt(points, index), setup);
    if (!hasPair(measured)) continue;
    const vector = baseVector(measured, setup);
    const offset = offsetOf({
      eastM: eastSign * present(measured.firstM, 'firstM'),
      northM: northSign * present(measured.secondM, 'secondM'),
      heightM: heightOf(measured),
    });
    const from = vertices[offset.segment] as PlacedPoint;
    const { covariance } = measuredCovariance(measured, vector, setup);
    const own = tolerances(from.row);
    const judged = judgeRow(
      {
        check: 'line',
        pointId: measured.row.pointId,
        occupation: measured.row.occupation,
        against: `${from.row.pointId} to ${entryAt(vertices, offset.segment + 1).row.pointId}`,
        firstM: eastSign * offset.eastM,
        secondM: northSign * offset.northM,
        upM: offset.upM,
        heightKind: offset.upM === null ? null : kind,
        alongM: offset.alongM,
        acrossM: offset.acrossM,
        distanceM: vector.distanceM,
        chainageM: offset.chainageM,
        separationS: null,
        measured,
        known: null,
        covariance,
        vector,
      },
      [...own, ...setup.designRules],
      noise,
    );
    rows.push(settle(withUnmet(judged, own)), { points, index }, null);
  }
  return success({ rows: rows.rows, missing: [], otherNames: [] });
}

/** A tolerance of the point itself that has no difference to be held against makes the row one that cannot be stated. */
function withUnmet(row: CheckRow, own: readonly LimitRule[]): CheckRow {
  const isUnmet = own.some(({ axis }) =>
    axis === 'up' ? row.upM === null : row.firstM === null || row.secondM === null,
  );
  if (!isUnmet) return row;
  return {
    ...row,
    verdict: row.verdict === 'exceeds' ? 'exceeds' : 'not-stated',
    reasons: [...row.reasons.filter((code) => code !== 'check-axis-unjudged'), 'check-not-stated'],
  };
}

function tolerances(row: PointRow): readonly LimitRule[] {
  const rules: LimitRule[] = [];
  if (row.toleranceHorizontalM !== null)
    rules.push(constantLimit('tolerance of the point', '2d', row.toleranceHorizontalM));
  if (row.toleranceVerticalM !== null)
    rules.push(constantLimit('tolerance of the point', 'up', row.toleranceVerticalM));
  return rules;
}
