import type { Geodesic } from '../../src/core/ellipsoid/geodesic.js';
import type { DistanceMatrix } from '../../src/core/planning/siting/distance-matrix.js';
import type { PlanPlace } from '../../src/core/planning/plan-point.js';

/** Distances from candidates to points, and the same divided by the range of each point, metres above 0. */
export function distanceMatrix(
  geodesic: Geodesic,
  candidates: readonly PlanPlace[],
  points: readonly PlanPlace[],
  rangesM: Float64Array,
): DistanceMatrix {
  const distanceM = new Float64Array(candidates.length * points.length);
  const from = geodesic.distancesTo(
    Float64Array.from(points, ({ latitudeDeg }) => latitudeDeg),
    Float64Array.from(points, ({ longitudeDeg }) => longitudeDeg),
  );
  candidates.forEach(({ latitudeDeg, longitudeDeg }, row) => {
    from(latitudeDeg, longitudeDeg, distanceM.subarray(row * points.length, (row + 1) * points.length));
  });
  const ratio = distanceM.map((distance, at) => distance / rangesM[at % points.length]!);
  return { candidateCount: candidates.length, pointCount: points.length, distanceM, ratio };
}
