import type { PlanePoint } from '../../../core/adjustment/convex-hull.js';
import { toEastNorth } from '../../../core/adjustment/site/site-axes.js';
import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import { emptyGridPairAndFactors } from '../../../core/grid/factors/grid-factors.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { RADIANS_PER_DEGREE } from '../../../core/numeric/angle-units.js';
import { nameKey } from '../../../core/numeric/text/name-key.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import { ownVarianceM2 } from './shared-base.js';
import type { SharedBase } from './shared-base.js';
import type { Symmetric2 } from '../../../core/numeric/symmetric2.js';
import { failure, failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { Station } from '../../../records/points/point-join.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Location, Problem } from '../../../records/problem.js';
import { entryAt, present } from '../../../records/present.js';

/** A measured point: its row, for the sigmas, and its place. */
export interface MeasuredPoint {
  readonly row: PointRow;
  readonly station: Station;
}

/** A control point with the measurement of it, all in metres along east and north. */
export interface ControlPair {
  readonly control: PointRow;
  readonly measured: MeasuredPoint;
  readonly role: 'fit' | 'check';
  readonly source: PlanePoint;
  /** Null: the control has a height only. */
  readonly target: PlanePoint | null;
  /** Of the measured place, without what it shares. */
  readonly sourceCovariance: Symmetric2;
  readonly targetCovariance: Symmetric2;
  /** Measured and control height of the kind fitted; both or neither are null. */
  readonly measuredHeightM: number | null;
  readonly controlHeightM: number | null;
  /** Of both heights, without what the measured one shares. */
  readonly heightVarianceM2: number;
  /** The base's error, which it shares with the points of that base; null: not known. */
  readonly shared: SharedBase | null;
  readonly pointScaleFactor: number | null;
  readonly convergenceDeg: number;
}

export interface PairSetup {
  readonly grid: GridSystem;
  readonly sourceAxes: SiteAxes;
  readonly siteAxes: SiteAxes;
  readonly heightKind: 'orthometric' | 'ellipsoidal' | null;
  readonly sharedOf: (row: PointRow) => SharedBase | null;
}

/**
 * Pairs control with measured points by id.
 *
 * A role that is not stated is `fit`; `both` fits and therefore does not check. Problems:
 * value-duplicate-id where an id occurs twice on either side; value-missing for control with neither
 * place nor height, or for a measured point without the height its control has; csv-empty where
 * nothing pairs. Warning: value-unknown-id for control that was not measured.
 */
export function pairControl(
  control: readonly PointRow[],
  measured: readonly MeasuredPoint[],
  setup: PairSetup,
  names: { readonly control: string; readonly points: string },
): Outcome<readonly ControlPair[]> {
  const problems: Problem[] = [];
  const warnings: Problem[] = [];
  const byId = new Map<string, MeasuredPoint[]>();
  for (const point of measured) byId.set(point.row.pointId, [...(byId.get(point.row.pointId) ?? []), point]);
  const alike = new Map([...byId.keys()].map((pointId) => [nameKey(pointId), pointId]));
  const seen = new Map<string, number>();
  const pairs: ControlPair[] = [];
  for (const row of control) {
    const where = { source: names.control, line: row.place.line };
    const earlier = seen.get(row.pointId);
    if (earlier === undefined) seen.set(row.pointId, row.place.line);
    const [found, ...others] = byId.get(row.pointId) ?? [];
    const pair =
      earlier !== undefined
        ? failure(repeatedControl(row, earlier, where))
        : found === undefined
          ? null
          : others.length > 0
            ? failure(repeatedPoint([found, ...others], names.points, where))
            : pairAt(row, found, setup, where);
    if (pair === null) warnings.push(notMeasured(row, where, alike.get(nameKey(row.pointId))));
    else if (pair.ok) pairs.push(pair.value);
    else pushAll(problems, pair.problems);
  }
  if (problems.length > 0) return failureOf(problems);
  if (pairs.length === 0)
    return failureOf([
      errorProblem('csv-empty', {
        message: `no control of ${names.control} has the id of a point of ${names.points}`,
        where: { source: names.control },
        hint: 'ids are compared letter by letter',
      }),
      ...warnings,
    ]);
  return success(pairs, warnings);
}

function repeatedControl({ pointId }: PointRow, earlierLine: number, where: Location): Problem {
  return errorProblem('value-duplicate-id', {
    message: `control ${pointId} is already on line ${String(earlierLine)}`,
    where,
    received: pointId,
    hint: 'keep one of the two',
  });
}

function repeatedPoint(measured: readonly MeasuredPoint[], points: string, where: Location): Problem {
  const { pointId } = entryAt(measured, 0).row;
  const lines = measured.map(({ row }) => row.place.line).join(', ');
  return errorProblem('value-duplicate-id', {
    message: `${pointId} occurs more than once in ${points} (lines ${lines})`,
    where,
    received: pointId,
    hint: 'combine occupations first: reduce-points --combine',
  });
}

/** `alike`: a measured point whose name differs in writing only. */
function notMeasured({ pointId }: PointRow, where: Location, alike: string | undefined): Problem {
  return warningProblem('value-unknown-id', {
    message: `control ${pointId} was not measured and takes no part`,
    where,
    received: pointId,
    ...(alike === undefined ? {} : { hint: `ids are compared letter by letter: is it the measured ${alike}?` }),
  });
}

function pairAt(row: PointRow, found: MeasuredPoint, setup: PairSetup, where: Location): Outcome<ControlPair> {
  const pair = pairOf(row, found, setup);
  return pair.ok ? pair : failureOf(pair.problems.map((problem) => ({ ...problem, where })));
}

function pairOf(row: PointRow, measured: MeasuredPoint, setup: PairSetup): Outcome<ControlPair> {
  const { station } = measured;
  const hasPlace = row.gridFirst !== null && row.gridSecond !== null;
  const controlHeightM = heightOf(row, setup.heightKind);
  if (!hasPlace && controlHeightM === null) {
    return failure(
      errorProblem('value-missing', {
        message: `control ${row.pointId} has neither a place nor a height on the site`,
        hint: 'fill the cells, or leave the row out',
      }),
    );
  }
  const measuredHeightM = heightOf(station, setup.heightKind);
  if (controlHeightM !== null && measuredHeightM === null) {
    return failure(
      errorProblem('value-missing', {
        message: `the control has the ${present(setup.heightKind, 'heightKind')} height of ${row.pointId} and the measured point has none`,
        hint:
          setup.heightKind === 'orthometric'
            ? 'give --geoid to come from ellipsoidal to orthometric heights, or --vertical none'
            : 'give ellipsoidal heights, or --vertical none',
      }),
    );
  }
  const shared = setup.sharedOf(measured.row);
  const factors = emptyGridPairAndFactors();
  setup.grid.forwardWithFactors(station.latitudeDeg, station.longitudeDeg, factors);
  return success({
    control: row,
    measured,
    role: row.role === 'check' ? 'check' : 'fit',
    source: toEastNorth(setup.sourceAxes, station.gridFirst, station.gridSecond),
    target:
      row.gridFirst === null || row.gridSecond === null
        ? null
        : toEastNorth(setup.siteAxes, row.gridFirst, row.gridSecond),
    // A base that is shared with nothing takes nothing off.
    sourceCovariance: ownPart(onGrid(planCovariance(measured.row), factors.convergenceDeg), shared?.horizontalM2 ?? 0),
    targetCovariance: planCovariance(row),
    measuredHeightM: controlHeightM === null ? null : measuredHeightM,
    controlHeightM,
    // A base that is shared with nothing takes nothing off.
    heightVarianceM2: ownVarianceM2(heightVariance(measured.row), shared?.verticalM2 ?? 0) + heightVariance(row),
    shared,
    pointScaleFactor: factors.pointScaleFactor,
    convergenceDeg: factors.convergenceDeg,
  });
}

function heightOf(
  point: { readonly orthometricHeightM: number | null; readonly ellipsoidalHeightM: number | null },
  kind: PairSetup['heightKind'],
): number | null {
  if (kind === null) return null;
  return kind === 'orthometric' ? point.orthometricHeightM : point.ellipsoidalHeightM;
}

/** Of sigma_east_m and sigma_north_m, else of sigma_horizontal_m; nothing where none is stated. */
function planCovariance(row: PointRow): Symmetric2 {
  const { sigmaEastM: e, sigmaNorthM: n, sigmaHorizontalM: h } = row;
  // A correlation that is not stated is taken for none.
  if (e !== null && n !== null) return { xx: e * e, xy: (row.correlationEn ?? 0) * e * n, yy: n * n };
  return h === null ? { xx: 0, xy: 0, yy: 0 } : { xx: h * h, xy: 0, yy: h * h };
}

function heightVariance(row: PointRow): number {
  // Nothing where none is stated.
  const sigma = row.sigmaUpM ?? row.sigmaVerticalM ?? 0;
  return sigma * sigma;
}

function ownPart({ xx, xy, yy }: Symmetric2, baseM2: number): Symmetric2 {
  const [ownX, ownY] = [ownVarianceM2(xx, baseM2), ownVarianceM2(yy, baseM2)];
  // The correlation stays what it was, so that the rest is a covariance still.
  return { xx: ownX, xy: xx > 0 && yy > 0 ? xy * Math.sqrt((ownX / xx) * (ownY / yy)) : 0, yy: ownY };
}

/** From true east and north to grid east and north: grid north is east of true north by the convergence. */
function onGrid({ xx, xy, yy }: Symmetric2, convergenceDeg: number): Symmetric2 {
  const c = Math.cos(convergenceDeg * RADIANS_PER_DEGREE);
  const s = Math.sin(convergenceDeg * RADIANS_PER_DEGREE);
  return {
    xx: c * c * xx - 2 * c * s * xy + s * s * yy,
    xy: c * s * (xx - yy) + (c * c - s * s) * xy,
    yy: s * s * xx + 2 * c * s * xy + c * c * yy,
  };
}
