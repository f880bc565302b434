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
