import type { PlanePoint } from '../adjustment/convex-hull.js';
import { spread } from '../adjustment/spread.js';
import { choleskySolve } from '../numeric/linear-solve.js';
import { distanceM, dot, sharedVarianceM2 } from './height-surface.js';
import type { HeightSurface } from './height-surface.js';
import { trendRow } from './height-trend.js';
import { signalCovarianceM2 } from './signal-covariance.js';

/** Covariances of the signal at a place with the differences; with a shared error, of both. */
export function covariancesAt(
  { signal, benchmarks, shared }: HeightSurface,
  place: PlanePoint,
  sharedWith: string | null = null,
): Float64Array {
  const common = sharedVarianceM2(shared, sharedWith);
  return Float64Array.from(
    benchmarks,
    (own) =>
      signalCovarianceM2(signal, distanceM(own.place, place)) +
      (sharedWith !== null && own.sharedWith === sharedWith ? common : 0),
  );
}

/**
 * What a surface adds to a measured height at a place: fᵀb + cᵀC⁻¹(e − Ab), metres.
 *
 * @example
 * // Isaaks and Srivastava's seven values with C = 10 exp(−0.3 d), at (65, 137): they print 592.7.
 * const data = [[61, 139, 477], [63, 140, 696], [64, 129, 227], [68, 128, 646], [71, 140, 606], [73, 141, 791], [75, 128, 783]];
 * const benchmarks = data.map(([eastM, northM, differenceM]) => ({
 *   pointId: '', place: { eastM, northM }, differenceM, ownM2: 1e-9, sharedWith: null }));
 * const signal = { kind: 'exponential', sigmaM: Math.sqrt(10), lengthM: 1 / 0.3 };
 * const frame = { origin: { eastM: 65, northM: 137 }, latitudeDeg: 0, convergenceDeg: 0 };
 * const surface = collocateHeights({ trend: 'offset', frame, signal, benchmarks, shared: [] });
 * surfaceAtM(surface, { eastM: 65, northM: 137 }); // 592.7
 * surfaceVarianceM2(surface, { eastM: 65, northM: 137 }); // 8.96
 */
export function surfaceAtM(surface: HeightSurface, place: PlanePoint): number {
  const { trend, frame, coefficients, weighted } = surface;
  return dot(trendRow(trend, frame, place), coefficients) + dot(covariancesAt(surface, place), weighted);
}

/**
 * Variance of that, which grows away from the benchmarks: C₀ − cᵀC⁻¹c + gᵀ(AᵀC⁻¹A)⁻¹g with g = f − AᵀC⁻¹c, times the
 * variance factor.
 *
 * Given: the surface; the place; an error B² that the height to be moved shares with benchmarks: the difference of that height is then
 * off by it too, and it cancels as far as the weights λ = C⁻¹c + C⁻¹A (AᵀC⁻¹A)⁻¹g of those benchmarks bring it in: B² (1 − 2 Σ λ)
 * is added. Where a tilt is untold: the variance of the plane, and the square of what it is off. Where the signal was told by the
 * benchmarks: the mean, by weight, of those of all likely signals, each with the square of what its correction is off. Returned: m², without the height's own.
 */
export function surfaceVarianceM2(surface: HeightSurface, place: PlanePoint, sharedWith: string | null = null): number {
  const { untold, likely } = surface;
  if (likely.length > 0) {
    const atM = surfaceAtM(surface, place);
    let mean = 0;
    for (const { weight, surface: one } of likely)
      mean += weight * (surfaceVarianceM2(one, place, sharedWith) + (surfaceAtM(one, place) - atM) ** 2);
    return mean;
  }
  if (untold === null) return ownVarianceM2(surface, place, sharedWith);
  const off = surfaceAtM(untold, place) - surfaceAtM(surface, place);
  return ownVarianceM2(untold, place, sharedWith) + off * off;
}

/** The variance with the trend as it is. */
function ownVarianceM2(surface: HeightSurface, place: PlanePoint, sharedWith: string | null): number {
  const { trend, frame, signal, shared, factor, weightedDesign, cofactor, benchmarks, varianceFactor } = surface;
  const c = covariancesAt(surface, place);
  const solved = choleskySolve(factor, benchmarks.length, c);
  const g = trendRow(trend, frame, place).map((entry, k) => entry - dot(weightedDesign[k]!, c));
  let variance = signalCovarianceM2(signal, 0) - dot(c, solved) + spread(g, cofactor, g);
  const common = sharedVarianceM2(shared, sharedWith);
  if (common > 0) {
    const own = benchmarks.map((benchmark) => (benchmark.sharedWith === sharedWith ? 1 : 0));
    const ofDesign = weightedDesign.map((column) => dot(own, column));
    variance += common * (1 - 2 * (dot(own, solved) + spread(ofDesign, cofactor, g)));
  }
  return varianceFactor * Math.max(0, variance);
}
