import { chiSquareQuantile } from '../../numeric/distributions/chi-square.js';
import { SCATTER_LEVEL } from '../../quality/decision-levels.js';
import type { AxisScatter, ExpectedScatter } from '../averaging/expected-scatter.js';
import type { RobustAverage } from '../averaging/robust-average.js';

/**
 * Whether the epochs of an occupation agree after the screen.
 *
 * - `agree`: they do, but for lone outliers;
 * - `few-agree`: of fewer than ten two or more were screened out, or fewer than four are left to outvote the one;
 * - `many-outliers`: of ten or more, more than one and more than a tenth were screened out;
 * - `disagree`: no more than half of them agree, so that no one can say which are right.
 */
export type StandAgreement = 'agree' | 'few-agree' | 'many-outliers' | 'disagree';

/** A share of outliers means something from so many epochs on. */
const LEAST_FOR_SHARE = 10;
/** So many epochs left outvote one that was screened out. */
const LEAST_LEFT = 4;
const AXES = 3;
/** Clean scatter of many epochs may be so many times what is allowed: slow errors leave few of them independent. An assumption. */
const LEAST_EXCESS = 4 / 3;

/** See `StandAgreement`. Given: the average of two epochs or more. Reference: common practice, no published source. */
export function standAgreement(average: RobustAverage): StandAgreement {
  const { outlierCount, usedCount } = average;
  const count = outlierCount + usedCount;
  if (outlierCount === 0) return 'agree';
  if (2 * usedCount <= count) return 'disagree';
  if (count >= LEAST_FOR_SHARE) return average.tooManyOutliers ? 'many-outliers' : 'agree';
  return outlierCount > 1 || usedCount < LEAST_LEFT ? 'few-agree' : 'agree';
}

/**
 * Whether the epochs kept scatter by more than is allowed to clean ones, on any axis: (m − 1)s² against
 * σ_a²·χ² of m − 1 degrees of freedom. A spread short of single outliers, as of epochs that alternate.
 *
 * Given: epochs, metres, and their average; what they are expected to scatter. With fewer than three kept: no test.
 * Returned: true where the scatter is too large.
 *
 * Notes: slow errors are not independent from epoch to epoch; their scatter is smaller on average and more variable
 * than the test assumes. The allowance covers that, and a scatter below 4/3 of it is never too large (simulated,
 * docs/methods/averaging.md).
 *
 * Reference: NIST-HANDBOOK, 7.2.3, test of a standard deviation.
 */
export function scatterIsLarge(
  east: ArrayLike<number>,
  north: ArrayLike<number>,
  up: ArrayLike<number>,
  average: RobustAverage,
  expected: ExpectedScatter,
): boolean {
  if (average.usedCount < 3) return false;
  const { outlier } = average;
  return (
    exceeds(east, average.meanEastM, outlier, expected.horizontal) ||
    exceeds(north, average.meanNorthM, outlier, expected.horizontal) ||
    exceeds(up, average.meanUpM, outlier, expected.vertical)
  );
}

function exceeds(values: ArrayLike<number>, meanM: number, outlier: Uint8Array, expected: AxisScatter): boolean {
  let kept = 0;
  let squares = 0;
  for (let i = 0; i < values.length; i += 1) {
    if (outlier[i] !== 0) continue;
    const offset = (values[i] as number) - meanM;
    squares += offset * offset;
    kept += 1;
  }
  const ratio = squares / (expected.mostM * expected.mostM);
  // Most occupations need no quantile.
  return (
    ratio > LEAST_EXCESS * LEAST_EXCESS * (kept - 1) && ratio > chiSquareQuantile(1 - SCATTER_LEVEL / AXES, kept - 1)
  );
}
