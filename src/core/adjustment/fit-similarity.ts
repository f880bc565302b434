import type { Symmetric2 } from '../numeric/symmetric2.js';
import { inverse2 } from '../numeric/symmetric2.js';
import { adjustObservations } from './adjust-observations.js';
import type { Adjustment, ObservationEquations } from './adjust-observations.js';
import { controlSpread } from './control-spread.js';
import { sharedColumn } from './shared-error.js';
import type { SharedError } from './shared-error.js';
import { spread } from './spread.js';
import type { PlanePoint } from './convex-hull.js';

/** A place known in both systems. */
export interface SimilarityPoint {
  readonly source: PlanePoint;
  readonly target: PlanePoint;
  /** Covariance of the source place along the source's east (x) and north (y), m². */
  readonly sourceCovariance: Symmetric2;
  /** Covariance of the target place along the target's east and north, m². */
  readonly targetCovariance: Symmetric2;
  /** The error of the source place that it shares with others; `sourceCovariance` is then without it. */
  readonly sharedWith?: string | null;
}

/** A similarity in the plane: X = targetOrigin + scale · R(rotation) · (x − sourceOrigin). */
export interface Similarity {
  readonly sourceOrigin: PlanePoint;
  /** Where the source origin comes to lie. */
  readonly targetOrigin: PlanePoint;
  /** Target length over source length. */
  readonly scale: number;
  /**
   * Positive where target north is east (clockwise) of source north: target bearing = source bearing
   * − rotation, as grid bearing = azimuth − convergence.
   */
  readonly rotationRad: number;
}

/** A fitted similarity. */
export interface SimilarityFit {
  readonly similarity: Similarity;
  readonly scaleIsFree: boolean;
  /** As given: their unknowns, east and north each, follow those of the similarity. */
  readonly shared: readonly SharedError[];
  /** Covariance of shift east (m), shift north (m), rotation (rad), scale, row by row; weights taken as right. */
  readonly cofactor: readonly number[];
  /** Linearised at the solution: east then north of each point. */
  readonly equations: ObservationEquations;
  readonly adjustment: Adjustment;
  readonly iterations: number;
}

const MOST_ITERATIONS = 50;
/** An iteration that moves no point by more than this is the last, metres. */
const SETTLED_M = 1e-8;

/**
 * Least-squares similarity between two plane systems.
 *
 * Given: points with covariances of both sides, of which each sum is positive definite; the scale, or
 * null to estimate it; the errors that source places share, each a shift of its own with its variance, so that weights and
 * covariance are those of the full covariance matrix. Returned: the fit, or why there is none: `undetermined` where fewer than two
 * places are distinct, `no-convergence` where the iteration does not settle.
 * Method: observations are the target coordinates, with the covariance of both sides brought into the
 * target; Gauss-Newton from the closed form with equal weights. Residuals are fitted minus target.
 * Reference: AITKEN-1935 for the weights; docs/methods/site-fit.md. It gives back what `transformBack`
 * of site-transform undoes.
 *
 * @example
 * // A square of 100 m that is one of 100.02 m, turned by a right angle, at (1000, 2000).
 * const covariance = { xx: 1e-4, xy: 0, yy: 1e-4 };
 * const point = (eastM, northM) => ({
 *   source: { eastM, northM },
 *   target: { eastM: 1000 - 1.0002 * northM, northM: 2000 + 1.0002 * eastM },
 *   sourceCovariance: covariance,
 *   targetCovariance: covariance,
 * });
 * const fit = fitSimilarity([point(0, 0), point(100, 0), point(100, 100), point(0, 100)], null);
 * fit.similarity.scale; // 1.000200
 * transformToSite(fit.similarity, { eastM: 50, northM: 0 }); // { eastM: 1000.000, northM: 2050.010 }
 */
export function fitSimilarity(
  points: readonly SimilarityPoint[],
  fixedScale: number | null,
  shared: readonly SharedError[] = [],
): SimilarityFit | 'undetermined' | 'no-convergence' {
  if (points.length < 2) return 'undetermined';
  const sourceOrigin = controlSpread(points.map((point) => point.source)).centre;
  const targetMean = controlSpread(points.map((point) => point.target)).centre;
  const start = closedForm(points, sourceOrigin, targetMean);
  if (start === null) return 'undetermined';
  let [shiftE, shiftN, rotation] = [0, 0, start.rotationRad];
  let scale = fixedScale ?? start.scale;
  const free = fixedScale === null;
  const radiusM = Math.max(1, controlSpread(points.map((point) => point.source)).radiusM);
  for (let iteration = 1; iteration <= MOST_ITERATIONS; iteration += 1) {
    const equations = linearised(points, sourceOrigin, targetMean, { shiftE, shiftN, rotation, scale, free }, shared);
    if (equations === null) return 'undetermined';
    const adjustment = adjustObservations(equations);
    if (adjustment === null) return 'undetermined';
    const [de, dn, dr] = [0, 1, 2].map((at) => adjustment.unknowns[at] as number) as [number, number, number];
    const ds = free ? (adjustment.unknowns[3] as number) : 0;
    shiftE += de;
    shiftN += dn;
    rotation += dr;
    scale += ds;
    if (!(scale > 0)) return 'no-convergence';
    const moved = Math.abs(de) + Math.abs(dn) + (Math.abs(dr) * scale + Math.abs(ds)) * radiusM;
    if (moved < SETTLED_M) {
      return {
        similarity: {
          sourceOrigin,
          targetOrigin: { eastM: targetMean.eastM + shiftE, northM: targetMean.northM + shiftN },
          scale,
          rotationRad: Math.atan2(Math.sin(rotation), Math.cos(rotation)),
        },
        scaleIsFree: free,
        shared,
        cofactor: widened(adjustment.cofactor, free, shared.length),
        equations,
        adjustment,
        iterations: iteration,
      };
    }
  }
  return 'no-convergence';
}

interface State {
  readonly shiftE: number;
  readonly shiftN: number;
  readonly rotation: number;
  readonly scale: number;
  readonly free: boolean;
}

/** a = Σ(xX + yY)/S, b = Σ(xY − yX)/S about both means; null where all source places are one. */
function closedForm(
  points: readonly SimilarityPoint[],
  source: PlanePoint,
  target: PlanePoint,
): { readonly scale: number; readonly rotationRad: number } | null {
  let [a, b, squares, targetSquares] = [0, 0, 0, 0];
  for (const point of points) {
    const x = point.source.eastM - source.eastM;
    const y = point.source.northM - source.northM;
    const u = point.target.eastM - target.eastM;
    const v = point.target.northM - target.northM;
    a += x * u + y * v;
    b += x * v - y * u;
    squares += x * x + y * y;
    targetSquares += u * u + v * v;
  }
  const length = Math.hypot(a, b);
  if (!(squares > 1e-6 && targetSquares > 1e-6)) return null;
  // Where the two figures do not match at all (mirrored, say) the direction means nothing; start from none.
  if (!(length > 1e-9 * Math.sqrt(squares * targetSquares)))
    return { scale: Math.sqrt(targetSquares / squares), rotationRad: 0 };
  return { scale: length / squares, rotationRad: Math.atan2(b, a) };
}

function linearised(
  points: readonly SimilarityPoint[],
  source: PlanePoint,
  target: PlanePoint,
  state: State,
  shared: readonly SharedError[],
): ObservationEquations | null {
  const { shiftE, shiftN, rotation, scale, free } = state;
  const own = free ? 4 : 3;
  const unknowns = own + 2 * shared.length;
  const m = 2 * (points.length + shared.length);
  const design = new Float64Array(m * unknowns);
  const observed = new Float64Array(m);
  const weights = new Float64Array(2 * m);
  const cosine = Math.cos(rotation);
  const sine = Math.sin(rotation);
  for (const [index, point] of points.entries()) {
    const x = point.source.eastM - source.eastM;
    const y = point.source.northM - source.northM;
    const turnedE = x * cosine - y * sine;
    const turnedN = x * sine + y * cosine;
    const row = 2 * index;
    design.set(free ? [1, 0, -scale * turnedN, turnedE] : [1, 0, -scale * turnedN], row * unknowns);
    design.set(free ? [0, 1, scale * turnedE, turnedN] : [0, 1, scale * turnedE], (row + 1) * unknowns);
    const column = sharedColumn(shared, point.sharedWith, own, 2);
    if (column !== null) {
      design.set([scale * cosine, -scale * sine], row * unknowns + column);
      design.set([scale * sine, scale * cosine], (row + 1) * unknowns + column);
    }
    observed[row] = point.target.eastM - target.eastM - shiftE - scale * turnedE;
    observed[row + 1] = point.target.northM - target.northM - shiftN - scale * turnedN;
    const weight = inverse2(inTarget(point, cosine, sine, scale));
    if (weight === null || !(weight.xx > 0 && weight.yy > 0)) return null;
    weights.set([weight.xx, weight.xy, weight.xy, weight.yy], 2 * row);
  }
  for (const [at, error] of shared.entries()) {
    const row = 2 * (points.length + at);
    for (const axis of [0, 1]) design[(row + axis) * unknowns + own + 2 * at + axis] = 1;
    weights.set([1 / error.varianceM2, 0, 0, 1 / error.varianceM2], 2 * row);
  }
  return { observations: m, unknowns, design, observed, blockSize: 2, weights };
}

/** Covariance of target minus fitted: scale² R C Rᵀ + C of the target. */
function inTarget(point: SimilarityPoint, cosine: number, sine: number, scale: number): Symmetric2 {
  const { xx, xy, yy } = point.sourceCovariance;
  const s2 = scale * scale;
  const c2 = cosine * cosine;
  const q2 = sine * sine;
  const cs = cosine * sine;
  const t = point.targetCovariance;
  return {
    xx: s2 * (c2 * xx - 2 * cs * xy + q2 * yy) + t.xx,
    xy: s2 * (cs * (xx - yy) + (c2 - q2) * xy) + t.xy,
    yy: s2 * (q2 * xx + 2 * cs * xy + c2 * yy) + t.yy,
  };
}

/**
 * Covariance of a place predicted from a measured one, along the target's east and north, without that place's own: errors that it
 * shares with the fitted ones cancel as far as they do. Given: the fit; the place; what it shares. Returned: m², of the cofactor.
 */
export function placePredictionM2(
  { similarity, scaleIsFree, shared, adjustment }: SimilarityFit,
  place: PlanePoint,
  sharedWith: string | null,
): Symmetric2 {
  const { sourceOrigin, scale, rotationRad } = similarity;
  const own = scaleIsFree ? 4 : 3;
  const x = place.eastM - sourceOrigin.eastM;
  const y = place.northM - sourceOrigin.northM;
  const cosine = Math.cos(rotationRad);
  const sine = Math.sin(rotationRad);
  const e = x * cosine - y * sine;
  const n = x * sine + y * cosine;
  const [east, north] = [0, 1].map(() => new Array<number>(own + 2 * shared.length).fill(0)) as [number[], number[]];
  east.splice(0, own, ...(scaleIsFree ? [1, 0, -scale * n, e] : [1, 0, -scale * n]));
  north.splice(0, own, ...(scaleIsFree ? [0, 1, scale * e, n] : [0, 1, scale * e]));
  const column = sharedColumn(shared, sharedWith, own, 2);
  if (column !== null) {
    east.splice(column, 2, scale * cosine, -scale * sine);
    north.splice(column, 2, scale * sine, scale * cosine);
  }
  const q = adjustment.cofactor;
  return { xx: spread(east, q, east), xy: spread(east, q, north), yy: spread(north, q, north) };
}

/** The part of the similarity alone, 4×4, with nothing for a scale that was not estimated. */
function widened(cofactor: Float64Array, free: boolean, sharedErrors: number): readonly number[] {
  const own = free ? 4 : 3;
  const size = own + 2 * sharedErrors;
  const q = (i: number, j: number): number => (i < own && j < own ? (cofactor[i * size + j] as number) : 0);
  return [0, 1, 2, 3].flatMap((i) => [0, 1, 2, 3].map((j) => q(i, j)));
}
