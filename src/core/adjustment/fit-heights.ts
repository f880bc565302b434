import { adjustObservations } from './adjust-observations.js';
import type { Adjustment, ObservationEquations } from './adjust-observations.js';
import { sharedColumn } from './shared-error.js';
import type { SharedError } from './shared-error.js';
import { spread } from './spread.js';
import type { PlanePoint } from './convex-hull.js';

/** A height known in both systems. */
export interface HeightPoint {
  /** In the source system. */
  readonly place: PlanePoint;
  /** Site height minus measured height, metres. */
  readonly differenceM: number;
  /** Variance of that difference, m², above 0. */
  readonly varianceM2: number;
  /** The error that it shares with others; `varianceM2` is then without it. */
  readonly sharedWith?: string | null;
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
  readonly kind: 'plane';
  readonly plane: HeightPlane;
  readonly isInclined: boolean;
  /** As given: their unknowns follow those of the plane, one each. */
  readonly shared: readonly SharedError[];
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
 * Given: the points; whether to incline; the origin of the plane; the errors that points share, each an unknown of its own with its
 * variance, so that weights and covariance are those of the full covariance matrix. Returned: the fit, or null where the
 * points do not determine it. Residuals are fitted minus observed difference.
 * Reference: docs/methods/site-fit.md; EPSG method 1046 is the same surface in degrees.
 *
 * @example
 * // Three heights on the plane 0.1 + E/100000 - N/50000.
 * const at = (eastM, northM, differenceM) => ({ place: { eastM, northM }, differenceM, varianceM2: 1e-4 });
 * const points = [at(0, 0, 0.1), at(1000, 0, 0.11), at(0, 1000, 0.08)];
 * const { plane } = fitHeights(points, true, { eastM: 0, northM: 0 });
 * [plane.offsetM, plane.slopeEast * 1e5, plane.slopeNorth * 1e5]; // [0.1000, 1.0000, -2.0000]
 */
export function fitHeights(
  points: readonly HeightPoint[],
  inclined: boolean,
  origin: PlanePoint,
  shared: readonly SharedError[] = [],
): HeightFit | null {
  const own = inclined ? 3 : 1;
  if (points.length < own) return null;
  const unknowns = own + shared.length;
  const m = points.length + shared.length;
  const design = new Float64Array(m * unknowns);
  const observed = new Float64Array(m);
  const weights = new Float64Array(m);
  for (const [index, point] of points.entries()) {
    design.set(
      inclined ? [1, point.place.eastM - origin.eastM, point.place.northM - origin.northM] : [1],
      index * unknowns,
    );
    observed[index] = point.differenceM;
    const column = sharedColumn(shared, point.sharedWith, own, 1);
    if (column !== null) design[index * unknowns + column] = 1;
    weights[index] = 1 / point.varianceM2;
  }
  for (const [at, error] of shared.entries()) {
    const row = points.length + at;
    design[row * unknowns + own + at] = 1;
    weights[row] = 1 / error.varianceM2;
  }
  const equations: ObservationEquations = { observations: m, unknowns, design, observed, blockSize: 1, weights };
  const adjustment = adjustObservations(equations);
  if (adjustment === null) return null;
  const [offsetM = 0, slopeEast = 0, slopeNorth = 0] = Array.from(adjustment.unknowns);
  const q = (i: number, j: number): number =>
    i < own && j < own ? (adjustment.cofactor[i * unknowns + j] as number) : 0;
  return {
    kind: 'plane',
    plane: { origin, offsetM, slopeEast, slopeNorth },
    isInclined: inclined,
    shared,
    cofactor: [0, 1, 2].flatMap((i) => [0, 1, 2].map((j) => q(i, j))),
    equations,
    adjustment,
  };
}

/**
 * Variance of a height predicted from a measured one, without that height's own: errors that it shares with the fitted ones cancel
 * as far as they do. Given: the fit; the place; what it shares. Returned: m², of the cofactor.
 */
export function heightPredictionM2(
  { plane, isInclined, shared, adjustment }: HeightFit,
  place: PlanePoint,
  sharedWith: string | null,
): number {
  const own = isInclined ? 3 : 1;
  const unknowns = own + shared.length;
  const row = new Array<number>(unknowns).fill(0);
  row.splice(0, own, ...(isInclined ? [1, place.eastM - plane.origin.eastM, place.northM - plane.origin.northM] : [1]));
  const column = sharedColumn(shared, sharedWith, own, 1);
  if (column !== null) row[column] = 1;
  return spread(row, adjustment.cofactor, row);
}

/** What the plane adds to a measured height at a place, metres. */
export function heightPlaneAtM(plane: HeightPlane, place: PlanePoint): number {
  return (
    plane.offsetM +
    plane.slopeEast * (place.eastM - plane.origin.eastM) +
    plane.slopeNorth * (place.northM - plane.origin.northM)
  );
}
