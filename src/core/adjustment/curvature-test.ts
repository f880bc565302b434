import { chiSquareQuantile } from '../numeric/distributions/chi-square.js';
import { largestOf } from '../numeric/extremes.js';
import { fQuantile } from '../numeric/distributions/f-distribution.js';
import { adjustObservations } from './adjust-observations.js';
import type { ObservationEquations } from './adjust-observations.js';
import type { PlanePoint } from './convex-hull.js';
import type { HeightFit } from './fit-heights.js';

/** A bowl or dome alone is looked for from so many heights on; with all three terms of second order, from so many. */
const LEAST_FOR_ONE = 5;
const LEAST_FOR_THREE = 8;
/** A surface must take this part of vᵀPv: a single wrong height is taken in part only. */
const TAKEN_PART = 2 / 3;

/** What terms of second order take off the residuals of a plane. */
export interface CurvatureTest {
  readonly statistic: number;
  readonly limit: number;
  readonly isCurved: boolean;
  /** The farthest that the surface comes from the plane at the control, metres. */
  readonly largestM: number;
}

/**
 * Tests whether the residuals of an inclined plane show a trend that a surface of second order would take.
 *
 * Given: the plane; the places of its heights in their order; whether their sigmas are stated; the chance of a false alarm.
 * Returned: the test, with vᵀPv of the plane less that of plane and surface against χ² where sigmas are stated and its share
 * against F where they are not; null with too few heights, or where the surface is not determined.
 */
export function curvatureTest(
  fit: HeightFit,
  places: readonly PlanePoint[],
  sigmasAreStated: boolean,
  level: number,
): CurvatureTest | null {
  const n = places.length;
  if (!fit.isInclined || n < LEAST_FOR_ONE) return null;
  const { equations, plane, adjustment } = fit;
  const terms = n < LEAST_FOR_THREE ? 1 : 3;
  const reachM = largestOf(
    places.map((place) => Math.hypot(place.eastM - plane.origin.eastM, place.northM - plane.origin.northM)),
    1,
  );
  const unknowns = equations.unknowns + terms;
  const design = new Float64Array(equations.observations * unknowns);
  for (let row = 0; row < equations.observations; row += 1) {
    design.set(equations.design.subarray(row * equations.unknowns, (row + 1) * equations.unknowns), row * unknowns);
    const place = places[row];
    if (place !== undefined)
      design.set(second(place, plane.origin, reachM).slice(0, terms), row * unknowns + equations.unknowns);
  }
  const curved: ObservationEquations = { ...equations, unknowns, design };
  const surface = adjustObservations(curved);
  if (surface === null || surface.redundancy < (sigmasAreStated ? 0 : 1)) return null;
  const taken = Math.max(0, adjustment.weightedSquares - surface.weightedSquares);
  const left = surface.redundancy === 0 ? 0 : surface.weightedSquares / surface.redundancy;
  const statistic = sigmasAreStated ? taken : left > 0 ? taken / terms / left : 0;
  const limit = sigmasAreStated ? chiSquareQuantile(1 - level, terms) : fQuantile(1 - level, terms, surface.redundancy);
  let largestM = 0;
  for (let row = 0; row < n; row += 1)
    largestM = Math.max(largestM, Math.abs((surface.residuals[row] as number) - (adjustment.residuals[row] as number)));
  return {
    statistic,
    limit,
    isCurved: statistic > limit && taken >= TAKEN_PART * adjustment.weightedSquares,
    largestM,
  };
}

/** Bowl, saddle and diagonal saddle, 1 at the reach of the control. */
function second(place: PlanePoint, origin: PlanePoint, reachM: number): readonly number[] {
  const x = (place.eastM - origin.eastM) / reachM;
  const y = (place.northM - origin.northM) / reachM;
  return [x * x + y * y, x * x - y * y, 2 * x * y];
}
