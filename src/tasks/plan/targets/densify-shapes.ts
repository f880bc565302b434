import { pushAll } from '../../../core/numeric/push-all.js';
import { densifyLine } from '../../../core/planning/coverage/densify-line.js';
import type { DensifiedPoint } from '../../../core/planning/coverage/densify-line.js';
import { densifyPolygon } from '../../../core/planning/coverage/densify-polygon.js';
import type { Geodesic } from '../../../core/ellipsoid/geodesic.js';
import { locateProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { PlanShape } from '../../../records/reports/parts/plan-shape.js';
import type { PlanTarget } from './plan-target.js';

/**
 * Lines and areas as points to be served, no farther apart than the spacing.
 *
 * Given: geodesic calculator; shapes; spacing, metres; tolerances for shapes without their own.
 * Returned: targets named `ID:1`, `ID:2`, … in the order of the line or boundary, then the interior.
 * Problems: those of `densifyLine` and `densifyPolygon`, with the shape's place; all shapes are tried.
 */
export function densifyShapes(
  geodesic: Geodesic,
  shapes: readonly PlanShape[],
  spacingM: number,
  tolerance: { readonly horizontalM: number | null; readonly verticalM: number | null },
): Outcome<readonly PlanTarget[]> {
  const targets: PlanTarget[] = [];
  const problems: Problem[] = [];
  for (const shape of shapes) {
    let count = 0;
    const parts = [
      ...shape.lines.map((line) => densifyLine(geodesic, line, spacingM)),
      ...shape.polygons.map((rings) => densifyPolygon(geodesic, rings, spacingM)),
    ];
    for (const part of parts) {
      if (!part.ok) {
        pushAll(
          problems,
          part.problems.map((problem) => locateProblem(problem, { source: shape.source, path: shape.path })),
        );
        continue;
      }
      for (const point of part.value) targets.push(targetOf(shape, point, (count += 1), tolerance));
    }
  }
  return problems.length > 0 ? failureOf(problems) : success(targets);
}

function targetOf(
  shape: PlanShape,
  point: DensifiedPoint,
  number: number,
  tolerance: Parameters<typeof densifyShapes>[3],
): PlanTarget {
  return {
    id: `${shape.id}:${String(number)}`,
    latitudeDeg: point.latitudeDeg,
    longitudeDeg: point.longitudeDeg,
    ellipsoidalHeightM: point.ellipsoidalHeightM,
    toleranceHorizontalM: shape.toleranceHorizontalM ?? tolerance.horizontalM,
    toleranceVerticalM: shape.toleranceVerticalM ?? tolerance.verticalM,
    kind: point.part,
    featureId: shape.id,
    chainageM: point.chainageM,
    passThrough: [],
  };
}
