import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Geodesic } from '../../ellipsoid/geodesic.js';
import {
  DEGREES_PER_RADIAN,
  RADIANS_PER_DEGREE,
  normaliseAzimuthDeg,
  normaliseLongitudeDeg,
} from '../../numeric/angle-units.js';
import { meanDirection } from './mean-direction.js';
import type { PlanPlace } from '../plan-point.js';
import { weightedEnclosingCircle } from './weighted-enclosing-circle.js';

/** The best free place for one base. */
export interface OneCentre extends PlanPlace {
  /** max d_i / r_i at the place: at most 1 means that every point is within its range. */
  readonly worstRatio: number;
  /** Largest geodesic distance to a point, metres. */
  readonly worstDistanceM: number;
  /** Indices of the one to three points that hold the place where it is. */
  readonly support: readonly number[];
  /** No place at all can have a smaller `worstRatio` than this: max d_ij / (r_i + r_j) over pairs with a support point. */
  readonly lowerBoundRatio: number;
  readonly iterations: number;
}

/** Layouts wider than this are not one base's job and the answer need not be unique. */
export const WIDEST_LAYOUT_RADIUS_M = 4_000_000;

/** The place has settled when it moves less than this, metres. */
const SETTLED_M = 1e-8;

/**
 * The geodesic 1-centre: the place on the ellipsoid whose largest ratio of geodesic distance to
 * range is smallest. With equal ranges it minimises the largest distance.
 *
 * Given: a geodesic calculator; points, degrees; the usable range of each, metres, > 0 (equal ranges
 * for the plain problem). Returned: see `OneCentre`. Problems: no points (value-missing); a range
 * that is not positive (value-out-of-range); points more than 4000 km from their middle
 * (value-out-of-range); no rest after 200 moves (method-no-convergence).
 *
 * Method: from the present centre take distance and azimuth to every point, lay them out in the
 * plane (azimuthal equidistant, in which distances and directions from the centre are true), solve
 * the planar problem exactly, and move there along the geodesic. At rest no direction improves all
 * support points at once, and that is the condition for the optimum on the ellipsoid too, because
 * only distances and directions at the centre enter it. A move that does not improve is halved.
 *
 * Notes: 1. Within 4000 km of the middle the distances are convex there, so the optimum is unique.
 * 2. The lower bound is the triangle inequality between two points; it is met when the support is
 * a pair.
 * Reference: MSW-1996 for the planar part; KARNEY-2013 for the distances.
 *
 * @example
 * // GeodSolve: the place that divides 58051.2 m as 1 : 2.
 * const points = [{ latitudeDeg: -31.5, longitudeDeg: 21.4 }, { latitudeDeg: -31.2, longitudeDeg: 21.9 }];
 * const centre = oneCentre(createGeodesic(WGS84), points, Float64Array.of(20e3, 40e3)).value;
 * centre.latitudeDeg; // -31.400218243
 * centre.worstRatio; // 0.96752033
 */
export function oneCentre(geodesic: Geodesic, points: readonly PlanPlace[], rangesM: Float64Array): Outcome<OneCentre> {
  const problem = badInput(points, rangesM);
  if (problem !== null) return problem;
  const work = layoutFor(points.length);
  let centre: PlanPlace = meanDirection(points);
  let ratio = layOut(geodesic, centre, points, rangesM, work);
  if (work.farthestM > WIDEST_LAYOUT_RADIUS_M) {
    return failure(
      errorProblem('value-out-of-range', {
        message: `the points reach ${String(Math.round(work.farthestM / 1000))} km from their middle, farther than one base could serve`,
        received: `${String(Math.round(work.farthestM / 1000))} km`,
        expected: `at most ${String(WIDEST_LAYOUT_RADIUS_M / 1000)} km`,
        hint: 'check the coordinates for exchanged latitude and longitude',
      }),
    );
  }
  let support: readonly number[] = [];
  for (let iterations = 1; iterations <= 200; iterations += 1) {
    const target = weightedEnclosingCircle(work.x, work.y, rangesM);
    support = target.support;
    const azimuthDeg = normaliseAzimuthDeg(Math.atan2(target.x, target.y) * DEGREES_PER_RADIAN);
    let stepM = Math.hypot(target.x, target.y);
    let moved = false;
    while (stepM > SETTLED_M) {
      const end = geodesic.direct(centre.latitudeDeg, centre.longitudeDeg, azimuthDeg, stepM);
      const next = { latitudeDeg: end.latitudeDeg, longitudeDeg: normaliseLongitudeDeg(end.longitudeDeg) };
      const nextRatio = layOut(geodesic, next, points, rangesM, work);
      if (nextRatio < ratio) {
        centre = next;
        ratio = nextRatio;
        moved = true;
        break;
      }
      stepM /= 2;
    }
    if (!moved) {
      layOut(geodesic, centre, points, rangesM, work);
      return success({
        ...centre,
        worstRatio: ratio,
        worstDistanceM: work.farthestM,
        support: [...support].sort((a, b) => a - b),
        lowerBoundRatio: pairBound(geodesic, points, rangesM, support),
        iterations,
      });
    }
  }
  return failure(
    errorProblem('method-no-convergence', {
      message: 'the search for the best place of a base did not settle in 200 moves',
    }),
  );
}

interface Layout {
  readonly x: Float64Array;
  readonly y: Float64Array;
  farthestM: number;
}

function layoutFor(count: number): Layout {
  return { x: new Float64Array(count), y: new Float64Array(count), farthestM: 0 };
}

/** Fills the plane around a centre and returns the largest ratio of distance to range there. */
function layOut(
  geodesic: Geodesic,
  centre: PlanPlace,
  points: readonly PlanPlace[],
  rangesM: Float64Array,
  into: Layout,
): number {
  let ratio = 0;
  into.farthestM = 0;
  for (let i = 0; i < points.length; i += 1) {
    const point = points[i] as PlanPlace;
    const line = geodesic.inverse(centre.latitudeDeg, centre.longitudeDeg, point.latitudeDeg, point.longitudeDeg);
    // There is no direction over no distance: any will do.
    const alpha = (line.azimuthDeg ?? 0) * RADIANS_PER_DEGREE;
    into.x[i] = line.distanceM * Math.sin(alpha);
    into.y[i] = line.distanceM * Math.cos(alpha);
    ratio = Math.max(ratio, line.distanceM / (rangesM[i] as number));
    into.farthestM = Math.max(into.farthestM, line.distanceM);
  }
  return ratio;
}

function pairBound(
  geodesic: Geodesic,
  points: readonly PlanPlace[],
  rangesM: Float64Array,
  support: readonly number[],
): number {
  let bound = 0;
  for (const i of support) {
    const from = points[i] as PlanPlace;
    for (let j = 0; j < points.length; j += 1) {
      if (j === i) continue;
      const to = points[j] as PlanPlace;
      const { distanceM } = geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
      bound = Math.max(bound, distanceM / ((rangesM[i] as number) + (rangesM[j] as number)));
    }
  }
  return bound;
}

function badInput(points: readonly PlanPlace[], rangesM: Float64Array): Outcome<OneCentre> | null {
  if (points.length === 0 || rangesM.length !== points.length) {
    return failure(
      errorProblem('value-missing', {
        message: 'there are no points to serve, or not one range for each',
        hint: 'give at least one point',
      }),
    );
  }
  const bad = rangesM.findIndex((range) => !(range > 0) || !Number.isFinite(range));
  if (bad < 0) return null;
  return failure(
    errorProblem('value-out-of-range', {
      message: `the usable range of point ${String(bad + 1)} is ${String(rangesM[bad])} m, which must be above 0`,
      hint: 'the tolerance of the point is below the constant term of the precision model',
    }),
  );
}
