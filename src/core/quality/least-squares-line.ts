import { studentTQuantile } from '../numeric/distributions/student-t.js';
import { choleskyFactor, choleskyInverse } from '../numeric/linear-solve.js';

/** One coefficient of a regression. */
export interface RegressionTerm {
  readonly estimate: number;
  readonly sigma: number;
  /** Half-width of its 95 % interval. */
  readonly halfWidth95: number;
  /** The interval leaves out zero. */
  readonly isSignificant: boolean;
}

export interface Regression {
  /** The constant first, then one term a predictor. */
  readonly terms: readonly RegressionTerm[];
  readonly residualDeviation: number;
  readonly degreesOfFreedom: number;
}

/**
 * Ordinary least squares of values on predictors and a constant.
 *
 * Given: n values; predictors, each n long, in units that make them of like size (kilometres, not
 * metres). Returned: terms with sigma and 95 % interval by t; null where n does not exceed the
 * number of terms or the predictors do not vary independently.
 *
 * Note: predictors are centred before the normal equations, and the constant is carried back.
 * Reference: NIST-HANDBOOK 4.4.3.1.
 */
export function leastSquaresLine(
  values: ArrayLike<number>,
  predictors: readonly ArrayLike<number>[],
): Regression | null {
  const n = values.length;
  const k = predictors.length;
  if (n <= k + 1) return null;
  const means = predictors.map((x) => mean(x, n));
  const meanValue = mean(values, n);
  const normal = new Float64Array(k * k);
  const right = new Float64Array(k);
  for (let i = 0; i < n; i += 1) {
    for (let a = 0; a < k; a += 1) {
      const xa = centred(predictors, means, a, i);
      right[a] = (right[a] as number) + xa * ((values[i] as number) - meanValue);
      for (let b = 0; b <= a; b += 1)
        normal[a * k + b] = (normal[a * k + b] as number) + xa * centred(predictors, means, b, i);
    }
  }
  const factor = choleskyFactor(normal, k);
  if (factor === null) return null;
  const inverse = choleskyInverse(factor, k);
  const slopes = means.map((_, a) =>
    means.reduce((sum, __, b) => sum + (inverse[a * k + b] as number) * (right[b] as number), 0),
  );
  let square = 0;
  for (let i = 0; i < n; i += 1) {
    let rest = (values[i] as number) - meanValue;
    for (let a = 0; a < k; a += 1) rest -= (slopes[a] as number) * centred(predictors, means, a, i);
    square += rest * rest;
  }
  const degreesOfFreedom = n - k - 1;
  const variance = square / degreesOfFreedom;
  const constant = meanValue - slopes.reduce((sum, slope, a) => sum + slope * (means[a] as number), 0);
  let constantVariance = 1 / n;
  for (let a = 0; a < k; a += 1)
    for (let b = 0; b < k; b += 1)
      constantVariance += (means[a] as number) * (means[b] as number) * (inverse[a * k + b] as number);
  const t = studentTQuantile(0.975, degreesOfFreedom);
  const term = (estimate: number, sigma: number): RegressionTerm => ({
    estimate,
    sigma,
    halfWidth95: t * sigma,
    isSignificant: Math.abs(estimate) > t * sigma,
  });
  return {
    terms: [
      term(constant, Math.sqrt(variance * constantVariance)),
      ...slopes.map((slope, a) => term(slope, Math.sqrt(variance * (inverse[a * k + a] as number)))),
    ],
    residualDeviation: Math.sqrt(variance),
    degreesOfFreedom,
  };
}

function mean(values: ArrayLike<number>, n: number): number {
  let sum = 0;
  for (let i = 0; i < n; i += 1) sum += values[i] as number;
  return sum / n;
}

function centred(predictors: readonly ArrayLike<number>[], means: readonly number[], a: number, i: number): number {
  return ((predictors[a] as ArrayLike<number>)[i] as number) - (means[a] as number);
}
