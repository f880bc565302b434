import { compensatedSum } from './compensated-sum.js';
import { InternalError } from '../../records/internal-error.js';

export interface MeanAndDeviation {
  readonly count: number;
  readonly mean: number;
  /** Of one value, with n − 1 in the divisor; null for a single value. */
  readonly standardDeviation: number | null;
}

/**
 * Mean and sample standard deviation, in two passes with compensated sums: the deviations are
 * formed from the mean and squared, never from a difference of large squares.
 *
 * Given: at least one finite number. Returned: the count, the mean and the standard deviation, in
 * the unit given. Errors: InternalError for no values.
 * Reference: NIST-STRD, univariate summary statistics.
 */
export function meanAndDeviation(values: ArrayLike<number>): MeanAndDeviation {
  const count = values.length;
  if (count === 0) throw new InternalError('the mean of no values was asked for');
  const first = compensatedSum(values) / count;
  const deviations = new Float64Array(count);
  for (let i = 0; i < count; i += 1) deviations[i] = (values[i] as number) - first;
  // What rounding left in the first mean.
  const shift = compensatedSum(deviations) / count;
  const mean = first + shift;
  if (count === 1) return { count, mean, standardDeviation: null };
  for (let i = 0; i < count; i += 1) {
    const deviation = (deviations[i] as number) - shift;
    deviations[i] = deviation * deviation;
  }
  return { count, mean, standardDeviation: Math.sqrt(compensatedSum(deviations) / (count - 1)) };
}
