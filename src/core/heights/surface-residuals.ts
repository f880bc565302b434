import type { ResidualTest } from '../adjustment/residual-tests.js';
import { BAARDA_POWER } from '../adjustment/residual-tests.js';
import { normalQuantile } from '../numeric/distributions/normal-quantile.js';
import { differenceVarianceM2 } from './height-surface.js';
import type { HeightSurface } from './height-surface.js';
import { leaveOutMatrix, leaveOneOut } from './leave-one-out.js';

/** Fitted minus observed difference of each benchmark, metres: minus what the surface holds for its own error, −D R e. */
export function fittedOfSurface({ benchmarks, weighted }: HeightSurface): Float64Array {
  return Float64Array.from(benchmarks, ({ ownM2 }, i) => -ownM2 * (weighted[i] as number));
}

/**
 * Tests of every benchmark. With a signal w = (R e)ᵢ / √Rᵢᵢ, the error of leaving out over its sigma, is Baarda's test of the full
 * covariance matrix; the redundancy is Cᵢᵢ Rᵢᵢ, at most 1: what the trend leaves of a difference whose variance is Cᵢᵢ.
 *
 * Given: the surface, variances as stated; the chance of a false alarm of each. Returned: one for each benchmark, in their order.
 * Reference: BAARDA-1968; docs/methods/height-surface.md.
 */
export function surfaceTests(surface: HeightSurface, level: number): readonly ResidualTest[] {
  const { benchmarks, redundancy, weightedSquares } = surface;
  const n = benchmarks.length;
  const matrix = leaveOutMatrix(surface);
  const left = leaveOneOut(surface, matrix);
  const residuals = fittedOfSurface(surface);
  const deviation = redundancy > 0 ? Math.sqrt(weightedSquares / redundancy) : 0;
  const shift = normalQuantile(1 - level / 2) + normalQuantile(BAARDA_POWER);
  return benchmarks.map((benchmark, i) => {
    const one = left[i] ?? null;
    const standardised = one === null ? null : one.errorM / one.sigmaM;
    return {
      residual: residuals[i] as number,
      redundancy: Math.max(0, Math.min(1, differenceVarianceM2(surface, benchmark) * (matrix[i * (n + 1)] as number))),
      standardised,
      studentised: standardised === null || !(deviation > 0) ? null : standardised / deviation,
      studentisedPair: null,
      detectable: one === null ? null : shift * one.sigmaM,
      leftOut: one?.errorM ?? null,
    };
  });
}
