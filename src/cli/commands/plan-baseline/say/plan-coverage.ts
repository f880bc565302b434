import type { Geodesic } from '../../../../core/ellipsoid/geodesic.js';
import type { PlanPoint } from '../../../../core/planning/plan-point.js';
import { createGeojsonShapeWriter } from '../../../../io/geojson/geojson-shape-write.js';
import type { ShapeProperty } from '../../../../io/geojson/geojson-shape-write.js';
import { baselineParts } from '../../../../tasks/plan/coverage-shapes.js';
import type { PlanRing } from '../../../../tasks/plan/coverage-shapes.js';
import type { PlannedTarget } from '../../../../tasks/plan/predict-targets.js';

/** The coverage file piece by piece: rings and bases first, then a point and a baseline for each target. */
export interface CoverageWriter {
  readonly begin: (bases: readonly PlanPoint[], rings: readonly PlanRing[]) => string;
  readonly target: (planned: PlannedTarget) => string;
  readonly end: () => string;
}

const m = (value: number | null): ShapeProperty => ({ value, decimals: 4 });

/** A writer of coverage as GeoJSON; `frame` is stated at every feature. */
export function createCoverageWriter(geodesic: Geodesic, frame: string): CoverageWriter {
  const writer = createGeojsonShapeWriter();
  return {
    begin(bases, rings) {
      let text = writer.begin();
      for (const { base, conditions, tolerance, radiusM, decidedBy, ring } of rings) {
        text += writer.feature(
          { kind: 'areas', rings: ring.rings },
          {
            role: 'ring',
            base_id: base.id,
            conditions,
            tolerance_horizontal_m: m(tolerance.toleranceHorizontalM),
            tolerance_vertical_m: m(tolerance.toleranceVerticalM),
            radius_m: m(radiusM),
            decided_by: decidedBy,
            contains_pole: ring.containsPole,
            height_difference_m: m(0),
            basis: 'planning assumption, one occupation, equal heights',
            frame,
          },
        );
      }
      for (const base of bases)
        text += writer.feature(
          { kind: 'point', place: base, ellipsoidalHeightM: base.ellipsoidalHeightM },
          { role: 'base', base_id: base.id, frame },
        );
      return text;
    },
    target(planned) {
      const { target, base, prediction, verdict, at } = planned;
      const said = { point_id: target.id, base_id: base.id, conditions: at.conditions, verdict };
      const point = writer.feature(
        { kind: 'point', place: target, ellipsoidalHeightM: target.ellipsoidalHeightM },
        {
          role: 'point',
          ...said,
          circle_95_m: m(at.uncertainty.circle95M),
          vertical_95_m: m(at.uncertainty.vertical95M),
          tie_base_ids: planned.tieBases.join(';'),
          frame,
        },
      );
      const line = writer.feature(
        { kind: 'lines', lines: baselineParts(geodesic, base, target) },
        { role: 'baseline', ...said, baseline_m: m(prediction.baselineM), frame },
      );
      return point + line;
    },
    end: () => writer.end(),
  };
}
