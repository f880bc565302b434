import { spread } from '../adjustment/spread.js';
import { choleskyInverse } from '../numeric/linear-solve.js';
import { differenceVarianceM2 } from './height-surface.js';
import type { HeightSurface } from './height-surface.js';

/** A benchmark as all others predict it. */
export interface LeftOut {
  /** Predicted from all others minus observed, metres. */
  readonly errorM: number;
  /** One sigma of that: of the prediction and of the benchmark's own difference. */
  readonly sigmaM: number;
}

/** R = C⁻¹ − C⁻¹A (AᵀC⁻¹A)⁻¹AᵀC⁻¹, n × n, row by row: R e = C⁻¹(e − Ab). */
export function leaveOutMatrix({ factor, benchmarks, weightedDesign, cofactor }: HeightSurface): Float64Array {
  const n = benchmarks.length;
  const matrix = choleskyInverse(factor, n);
  const rows = benchmarks.map((_, i) => weightedDesign.map((column) => column[i] as number));
  for (let i = 0; i < n; i += 1)
    for (let j = 0; j <= i; j += 1) {
      const value = (matrix[i * n + j] as number) - spread(rows[i]!, cofactor, rows[j]!);
      matrix[i * n + j] = value;
      matrix[j * n + i] = value;
    }
  return matrix;
}

/** What is left of a variance after the trend took its part; below this it is rounding. */
const LEAST_REST = 1e-9;

/**
 * Every benchmark left out in turn, without solving anew: its error is −(R e)ᵢ / Rᵢᵢ, with the variance 1 / Rᵢᵢ.
 *
 * Given: the surface; R where it is at hand. Returned: one for each benchmark; null for one without which the trend is not
 * determined. Variances are times the variance factor. Reference: DUBRULE-1983 (from memory); checked by leaving out in
 * tests/core/heights.
 */
export function leaveOneOut(
  surface: HeightSurface,
  matrix: Float64Array = leaveOutMatrix(surface),
): readonly (LeftOut | null)[] {
  const n = surface.benchmarks.length;
  return surface.benchmarks.map((benchmark, i) => {
    const own = matrix[i * n + i] as number;
    if (surface.redundancy < 1 || !(own * differenceVarianceM2(surface, benchmark) > LEAST_REST)) return null;
    const errorM = -(surface.weighted[i] as number) / own;
    return { errorM, sigmaM: Math.sqrt(surface.varianceFactor / own) };
  });
}

/** Root of the mean square of the errors; null where one has none. */
export function leaveOneOutRmsM(found: readonly (LeftOut | null)[]): number | null {
  let squares = 0;
  for (const one of found) {
    if (one === null) return null;
    squares += one.errorM * one.errorM;
  }
  return found.length === 0 ? null : Math.sqrt(squares / found.length);
}
