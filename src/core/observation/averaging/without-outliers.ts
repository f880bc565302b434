import type { RobustAverage } from './robust-average.js';

/**
 * One component of an occupation without the epochs that were screened out, for `trendTest` and
 * `antennaMoving`; where too many were screened out they are no lone outliers, and all are kept.
 *
 * Given: values in epoch order, such as times or eastings; the average of the occupation.
 * Returned: the values themselves where nothing is left out, otherwise a shorter copy.
 */
export function withoutOutliers(values: Float64Array, average: RobustAverage): Float64Array {
  if (average.outlierCount === 0 || average.tooManyOutliers) return values;
  const kept = new Float64Array(average.usedCount);
  let at = 0;
  for (let i = 0; i < values.length; i += 1) {
    if (average.outlier[i] !== 0) continue;
    kept[at] = values[i] as number;
    at += 1;
  }
  return kept;
}
