import { chiSquareQuantile } from '../../numeric/distributions/chi-square.js';
import { compensatedSum } from '../../numeric/compensated-sum.js';
import { meanAndDeviation } from '../../numeric/mean-and-deviation.js';
import { studentTCdf, studentTQuantile } from '../../numeric/distributions/student-t.js';

/** What a set of residuals of one axis says, in the residuals' unit. */
export interface SampleStatistics {
  readonly count: number;
  /** Mean: the bias. */
  readonly mean: number;
  /** About the mean, n − 1; null for one value. */
  readonly standardDeviation: number | null;
  /** Root of the mean square, the bias included. */
  readonly rmse: number;
  /** The true RMSE lies here with 95 % probability, given normal errors without bias. */
  readonly rmseLow95: number;
  readonly rmseHigh95: number;
  /** t = mean/(s/√n); null for one value or no scatter. */
  readonly t: number | null;
  /** Two-sided 95 % limit of |t| with n − 1 degrees of freedom; null for one value. */
  readonly tLimit95: number | null;
  /** Probability of a larger |t| without a bias; null as `t`. */
  readonly tProbability: number | null;
  /** |t| above its limit. */
  readonly isBiased: boolean;
}

/**
 * Bias, standard deviation and RMSE of residuals, each with what its sample size allows to say.
 *
 * t = b̄/(s/√n) against t₀.₉₇₅,ₙ₋₁; RMSE² = b̄² + s²(n − 1)/n; the interval of the true RMSE is
 * RMSE·√(n/χ²) with χ²₀.₉₇₅,ₙ and χ²₀.₀₂₅,ₙ.
 *
 * Given: values of one axis, one or more. Returned: see `SampleStatistics`.
 *
 * Notes:
 * 1. With n = 5 the true RMSE may be 2.45 times the one found: print the interval.
 * 2. Residuals of points from one base share its error; the t-test takes them as independent, so a
 *    bias found may be the base's.
 *
 * Reference: NIST-HANDBOOK 1.3.5.2 (t) and 1.3.5.8 (χ² interval). Check values: docs/methods/control-check.md.
 */
export function sampleStatistics(values: ArrayLike<number>): SampleStatistics {
  const { count, mean, standardDeviation } = meanAndDeviation(values);
  const squares = new Float64Array(count);
  for (let i = 0; i < count; i += 1) squares[i] = (values[i] as number) ** 2;
  const rmse = Math.sqrt(compensatedSum(squares) / count);
  const t =
    standardDeviation === null || standardDeviation === 0 ? null : (mean * Math.sqrt(count)) / standardDeviation;
  const tLimit95 = count < 2 ? null : studentTQuantile(0.975, count - 1);
  return {
    count,
    mean,
    standardDeviation,
    rmse,
    rmseLow95: rmse * Math.sqrt(count / chiSquareQuantile(0.975, count)),
    rmseHigh95: rmse * Math.sqrt(count / chiSquareQuantile(0.025, count)),
    t,
    tLimit95,
    tProbability: t === null ? null : 2 * studentTCdf(-Math.abs(t), count - 1),
    isBiased: t !== null && tLimit95 !== null && Math.abs(t) > tLimit95,
  };
}
