import { adjustObservations } from './adjust-observations.js';
import type { Adjustment, ObservationEquations } from './adjust-observations.js';
import type { PlanePoint } from './convex-hull.js';

/** A height known in both systems. */
export interface HeightPoint {
  /** In the source system. */
  readonly place: PlanePoint;
  /** Site height minus measured height, metres. */
  readonly differenceM: number;
  /** Variance of that difference, m², above 0. */
  readonly varianceM2: number;
}

/** A level or inclined plane of height differences: offset + slopeEast · ΔE + slopeNorth · ΔN. */
export interface HeightPlane {
  readonly origin: PlanePoint;
  /** Added to a measured height at the origin, metres. */
  readonly offsetM: number;
  /** Metres per metre; 0 for a shift. */
  readonly slopeEast: number;
  readonly slopeNorth: number;
}

/** A fitted plane. */
export interface HeightFit {
  readonly plane: HeightPlane;
  readonly isInclined: boolean;
  /** Covariance of offset (m), slope east, slope north, row by row; weights taken as right. */
  readonly cofactor: readonly number[];
  readonly equations: ObservationEquations;
  readonly adjustment: Adjustment;
}

/**
 * Least-squares level or inclined plane through height differences. Over a geoid model the differences
 * are what the model leaves; over the ellipsoid they would hold the geoid's own slope, which a plane
 * follows over a few kilometres only.
 *
 * Given: the points; whether to incline; the origin of the plane. Returned: the fit, or null where the
 * points do not determine it. Residuals are fitted minus observed difference.
 * Reference: docs/methods/site-fit.md; EPSG method 1046 is the same surface in degrees.
 */
export function fitHeights(points: readonly HeightPoint[], inclined: boolean, origin: PlanePoint): HeightFit | null {
  const unknowns = inclined ? 3 : 1;
  if (points.length < unknowns) return null;
  const m = points.length;
  const design = new Float64Array(m * unknowns);
  const observed = new Float64Array(m);
  const weights = new Float64Array(m);
  for (const [index, point] of points.entries()) {
    design.set(inclined ? [1, point.place.eastM - origin.eastM, point.place.northM - origin.northM] : [1], index * unknowns);
    observed[index] = point.differenceM;
    weights[index] = 1 / point.varianceM2;
  }
  const equations: ObservationEquations = { observations: m, unknowns, design, observed, blockSize: 1, weights };
  const adjustment = adjustObservations(equations);
  if (adjustment === null) return null;
  const [offsetM = 0, slopeEast = 0, slopeNorth = 0] = Array.from(adjustment.unknowns);
  const q = (i: number, j: number): number => (i < unknowns && j < unknowns ? (adjustment.cofactor[i * unknowns + j] as number) : 0);
  return {
    plane: { origin, offsetM, slopeEast, slopeNorth },
    isInclined: inclined,
    cofactor: [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => q(i, j))),
    equations,
    adjustment,
  };
}

/** What the plane adds to a measured height at a place, metres. */
export function heightPlaneAtM(plane: HeightPlane, place: PlanePoint): number {
  return plane.offsetM + plane.slopeEast * (place.eastM - plane.origin.eastM) + plane.slopeNorth * (place.northM - plane.origin.northM);
}
