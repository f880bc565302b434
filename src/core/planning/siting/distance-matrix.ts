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

/** The row of one candidate: its distance to each point, metres, and the same divided by the range. */
export type DistanceRow = Pick<DistanceMatrix, 'distanceM' | 'ratio'>;

/** Positions of points, degrees. */
export interface PlaceArrays {
  readonly latitudeDeg: Float64Array;
  readonly longitudeDeg: Float64Array;
}

/**
 * Geodesic distances from a candidate to points.
 *
 * Given: candidate and points, degrees, checked; where the distances go, metres. Reference: KARNEY-2013.
 */
export function distanceRow(
  geodesic: Geodesic,
  candidate: PlanPlace,
  { latitudeDeg, longitudeDeg }: PlaceArrays,
  into: Float64Array,
): void {
  const { latitudeDeg: latitude, longitudeDeg: longitude } = candidate;
  for (let i = 0; i < into.length; i += 1)
    into[i] = geodesic.distanceM(latitude, longitude, latitudeDeg[i] as number, longitudeDeg[i] as number);
}
