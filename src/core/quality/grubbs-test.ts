import { meanAndDeviation } from '../numeric/mean-and-deviation.js';
import { studentTQuantile } from '../numeric/student-t.js';

export interface GrubbsTest {
  /** Largest |x − mean|/s. */
  readonly statistic: number;
  /** Index of that value. */
  readonly index: number;
  /** 5 % limit, one-sided for the stated end, two-sided for either. */
  readonly limit: number;
  readonly isOutlier: boolean;
}

/**
 * Grubbs' test: whether the value farthest from the mean belongs to the others.
 *
 * G = max|x − x̄|/s; limit (n − 1)/√n·√(t²/(n − 2 + t²)), t = t₁₋α/ₙ,ₙ₋₂ one-sided, t₁₋α/₂ₙ two-sided.
 *
 * Given: values, three or more; `one-sided` when only the larger end is in doubt; α.
 * Returned: the test; null for fewer than three values or no scatter.
 * Reference: NIST-HANDBOOK 1.3.5.17.1.
 */
export function grubbsTest(values: ArrayLike<number>, sides: 'one-sided' | 'two-sided' = 'two-sided', alpha = 0.05): GrubbsTest | null {
  const { count, mean, standardDeviation } = meanAndDeviation(values);
  if (count < 3 || standardDeviation === null || standardDeviation === 0) return null;
  let index = 0;
  let statistic = 0;
  for (let i = 0; i < count; i += 1) {
    const away = (values[i] as number) - mean;
    const size = (sides === 'one-sided' ? away : Math.abs(away)) / standardDeviation;
    if (size > statistic) {
      statistic = size;
      index = i;
    }
  }
  const t = studentTQuantile(1 - alpha / ((sides === 'one-sided' ? 1 : 2) * count), count - 2);
  const limit = ((count - 1) / Math.sqrt(count)) * Math.sqrt((t * t) / (count - 2 + t * t));
  return { statistic, index, limit, isOutlier: statistic > limit };
}
