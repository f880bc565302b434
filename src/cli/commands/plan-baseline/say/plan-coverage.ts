import type { Geodesic } from '../../../../core/ellipsoid/geodesic.js';
import type { PlanPoint } from '../../../../core/planning/plan-point.js';
import { createGeojsonShapeWriter } from '../../../../io/geojson/geojson-shape-write.js';
import type { ShapeGeometry } from '../../../../io/geojson/geojson-shape-write.js';
import { createProperties } from '../../../../io/tables/columns/column-members.js';
import { baselineParts } from '../../../../tasks/plan/targets/coverage-shapes.js';
import type { PlanRing } from '../../../../tasks/plan/targets/coverage-shapes.js';
import type { PlannedTarget } from '../../../../tasks/plan/targets/predict-targets.js';
import { coverageColumns } from './coverage-columns.js';

/** The coverage file piece by piece: rings and bases first, then a point and a baseline for each target. */
export interface CoverageWriter {
  readonly begin: (bases: readonly PlanPoint[], rings: readonly PlanRing[]) => string;
  readonly target: (planned: PlannedTarget) => string;
  readonly end: () => string;
}

/** A writer of coverage as GeoJSON; `frame` is stated at every feature. */
export function createCoverageWriter(geodesic: Geodesic, frame: string): CoverageWriter {
  const writer = createGeojsonShapeWriter();
  const columns = coverageColumns(frame);
  const ringOf = createProperties(columns.ring);
  const baseOf = createProperties(columns.base);
  const pointOf = createProperties(columns.point);
  const baselineOf = createProperties(columns.baseline);
  const at = (place: PlanPoint): ShapeGeometry => ({
    kind: 'point',
    place,
    ellipsoidalHeightM: place.ellipsoidalHeightM,
  });
  return {
    begin: (bases, rings) =>
      [
        writer.begin(),
        ...rings.map((ring) => writer.feature({ kind: 'areas', rings: ring.ring.rings }, ringOf(ring))),
        ...bases.map((base) => writer.feature(at(base), baseOf(base))),
      ].join(''),
    target(planned) {
      const lines = baselineParts(geodesic, planned.base, planned.target);
      return (
        writer.feature(at(planned.target), pointOf(planned)) +
        writer.feature({ kind: 'lines', lines }, baselineOf(planned))
      );
    },
    end: () => writer.end(),
  };
}
