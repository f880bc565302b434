import type { Geodesic } from '../../../core/ellipsoid/geodesic.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { PlanShape } from '../../../records/reports/parts/plan-shape.js';
import type { ToleranceSettings } from '../../../records/session.js';
import { densifyShapes } from './densify-shapes.js';
import type { LocatedRow } from './locate-rows.js';
import type { PlanTarget } from './plan-target.js';

/** The points, lines and areas to be served, and the name of their file. */
export interface PlanPlaces {
  readonly rows: readonly LocatedRow[];
  readonly shapes: readonly PlanShape[];
  readonly name: string;
}

/**
 * The work points, then the points put on lines and in areas.
 * Problems: value-missing without any; config-missing for shapes without --spacing, and where a place has no tolerance at all;
 * those of `densifyShapes`.
 *
 * @example
 * // One point, with the tolerances of the session.
 * const row = { toleranceHorizontalM: null, toleranceVerticalM: 0.1, passThrough: [] };
 * const rows = [{ id: 'P', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: null, row }];
 * const places = { rows, shapes: [], name: 'points.csv' };
 * const [target] = planTargets(createGeodesic(WGS84), places, null, { horizontalM: 0.05, verticalM: null }).value;
 * [target.toleranceHorizontalM, target.toleranceVerticalM]; // [0.05, 0.10]
 */
export function planTargets(
  geodesic: Geodesic,
  { rows, shapes, name }: PlanPlaces,
  spacingM: number | null,
  tolerance: ToleranceSettings,
): Outcome<readonly PlanTarget[]> {
  if (rows.length === 0 && shapes.length === 0) {
    return failure(
      errorProblem('value-missing', {
        message: 'there are no points to plan for',
        where: { source: name },
        hint: 'check the file and its rows',
      }),
    );
  }
  if (shapes.length > 0 && spacingM === null) {
    return failure(
      errorProblem('config-missing', {
        message: `the file has ${String(shapes.length)} lines or areas, and nothing says how closely they are to be served`,
        hint: 'give --spacing METRES',
      }),
    );
  }
  // Member by member: what is left of an object by `...` is slow to ask for ever after.
  const points = rows.map(({ row, id, latitudeDeg, longitudeDeg, ellipsoidalHeightM }): PlanTarget => ({
    id,
    latitudeDeg,
    longitudeDeg,
    ellipsoidalHeightM,
    toleranceHorizontalM: row.toleranceHorizontalM ?? tolerance.horizontalM,
    toleranceVerticalM: row.toleranceVerticalM ?? tolerance.verticalM,
    kind: 'point',
    featureId: null,
    chainageM: null,
    passThrough: row.passThrough,
  }));
  const dense =
    shapes.length === 0
      ? success<readonly PlanTarget[]>([])
      : // Without a spacing only the corners are points.
        densifyShapes(geodesic, shapes, spacingM ?? 0, tolerance);
  if (!dense.ok) return dense;
  const targets = [...points, ...dense.value];
  const bare = targets.find((target) => target.toleranceHorizontalM === null && target.toleranceVerticalM === null);
  if (bare !== undefined) {
    return failure(
      errorProblem('config-missing', {
        message: `${bare.id} has no tolerance, so nothing can be said about it`,
        hint: 'give --limit-horizontal and --limit-vertical (95 %, metres), [tolerance] in a session, or the columns tolerance_horizontal_m and tolerance_vertical_m',
      }),
    );
  }
  return success(targets);
}
