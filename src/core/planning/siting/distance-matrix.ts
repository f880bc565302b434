import type { Geodesic } from '../../ellipsoid/geodesic.js';
import type { PlanPlace } from '../plan-point.js';

/** Distances from every candidate to every point, and the same divided by each point's range. */
export interface DistanceMatrix {
  readonly candidateCount: number;
  readonly pointCount: number;
  /** Entry `candidate * pointCount + point`, metres. */
  readonly distanceM: Float64Array;
  /** As `distanceM`, divided by the point's usable range: at most 1 means served. */
  readonly ratio: Float64Array;
}

/**
 * Geodesic distances from candidates to points.
 *
 * Given: candidates and points, degrees, checked; usable range of each point, metres, > 0.
 * Returned: a matrix, one row a candidate. Reference: KARNEY-2013.
 */
export function distanceMatrix(
  geodesic: Geodesic,
  candidates: readonly PlanPlace[],
  points: readonly PlanPlace[],
  rangesM: Float64Array,
): DistanceMatrix {
  const distanceM = new Float64Array(candidates.length * points.length);
  const ratio = new Float64Array(distanceM.length);
  let at = 0;
  for (const candidate of candidates) {
    for (let i = 0; i < points.length; i += 1, at += 1) {
      const point = points[i] as PlanPlace;
      const d = geodesic.distanceM(
        candidate.latitudeDeg,
        candidate.longitudeDeg,
        point.latitudeDeg,
        point.longitudeDeg,
      );
      distanceM[at] = d;
      ratio[at] = d / (rangesM[i] as number);
    }
  }
  return { candidateCount: candidates.length, pointCount: points.length, distanceM, ratio };
}
