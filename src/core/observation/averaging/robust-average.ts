import { InternalError } from '../../../records/internal-error.js';
import { MAD_TO_SIGMA, median, medianAbsoluteDeviation } from '../../numeric/median.js';
import type { AxisScatter, ExpectedScatter } from './expected-scatter.js';
import { screenLimitM, screenedFromM } from './screen-limit.js';

/** A robust mean of the epochs of one occupation, with what it did to each of them. Metres. */
export interface RobustAverage {
  /** Huber mean. */
  readonly eastM: number;
  readonly northM: number;
  readonly upM: number;
  /** Plain mean of the epochs kept. */
  readonly meanEastM: number;
  readonly meanNorthM: number;
  readonly meanUpM: number;
  /** Median of all epochs. */
  readonly medianEastM: number;
  readonly medianNorthM: number;
  readonly medianUpM: number;
  /** 1.4826 times the median distance from the median, of all epochs; not floored. */
  readonly madEastM: number;
  readonly madNorthM: number;
  readonly madUpM: number;
  /** Huber weights per axis, 0 to 1; 0 where the epoch was screened out. */
  readonly weightsEast: Float64Array;
  readonly weightsNorth: Float64Array;
  readonly weightsUp: Float64Array;
  /** 1 where the epoch was screened out. */
  readonly outlier: Uint8Array;
  readonly outlierCount: number;
  readonly usedCount: number;
  /** More than one epoch, and more than a tenth of them, were screened out: they are no lone outliers. */
  readonly tooManyOutliers: boolean;
}

/** The Huber mean takes no scatter for smaller than this, metres: receivers write positions to a tenth of it. */
const MAD_FLOOR_M = 0.001;
const HUBER_C = 1.345;
const STEP_M = 1e-8;
const MOST_STEPS = 200;

function screen(
  values: ArrayLike<number>,
  centre: number,
  madM: number,
  expected: AxisScatter,
  outlier: Uint8Array,
): void {
  const count = values.length;
  let farthest = 0;
  for (let i = 0; i < count; i += 1) farthest = Math.max(farthest, Math.abs((values[i] as number) - centre));
  if (count < 2 || farthest <= screenedFromM(count, expected)) return;
  const limit = screenLimitM(count, madM, expected);
  for (let i = 0; i < count; i += 1) if (Math.abs((values[i] as number) - centre) > limit) outlier[i] = 1;
}

/** Huber mean by reweighting from the median at a fixed scale; fills the weights of the epochs kept. */
function huberMean(
  values: ArrayLike<number>,
  outlier: Uint8Array,
  start: number,
  scale: number,
  weights: Float64Array,
): number {
  const reach = HUBER_C * scale;
  let centre = start;
  for (let step = 0; step < MOST_STEPS; step += 1) {
    let sum = 0;
    let moment = 0;
    for (let i = 0; i < values.length; i += 1) {
      if (outlier[i] !== 0) continue;
      const offset = (values[i] as number) - centre;
      const size = Math.abs(offset);
      const weight = size <= reach ? 1 : reach / size;
      weights[i] = weight;
      sum += weight;
      moment += weight * offset;
    }
    const shift = moment / sum;
    centre += shift;
    if (Math.abs(shift) < STEP_M) break;
  }
  return centre;
}

function plainMean(values: ArrayLike<number>, outlier: Uint8Array, about: number, count: number): number {
  let sum = 0;
  for (let i = 0; i < values.length; i += 1) if (outlier[i] === 0) sum += (values[i] as number) - about;
  return about + sum / count;
}

/**
 * Robust mean of the accepted epochs of one occupation.
 *
 * Per axis: median m and MAD = 1.4826·median|x − m|. An epoch farther from the median than `screenLimitM` on any axis is
 * screened out, once. Of the rest, the Huber mean with c = 1.345 at the scale MAD, not less than 1 mm, to a micrometre.
 *
 * Given: east, north, up about a local origin near the epochs, metres, of equal length, at least 1; what they are
 * expected to scatter. Returned: see `RobustAverage`.
 *
 * Notes:
 * 1. One epoch, or two, are their plain mean. Two that disagree are both marked.
 * 2. Should every epoch be screened out, all are kept for the average; `outlier` still marks them and `usedCount` is 0.
 * 3. The scatter about this mean says nothing of accuracy: see `occupationUncertainty`.
 *
 * Reference: HUBER-1964, the estimator; its constant gives 95 % efficiency on normal errors. The screen:
 * `screenLimitM`.
 *
 * @example
 * // The root of the sum of clipped residuals, computed with SciPy.
 * const eastM = [0.012, 0.015, 0.009, 0.011, 0.031, 0.013, 0.01];
 * const flat = new Float64Array(7);
 * const axis = { withinM: 0.006, mostM: 0.012 };
 * const mean = robustAverage(eastM, flat, flat, { horizontal: axis, vertical: axis });
 * mean.eastM; // 0.0123314
 * mean.outlierCount; // 0
 */
export function robustAverage(
  east: ArrayLike<number>,
  north: ArrayLike<number>,
  up: ArrayLike<number>,
  expected: ExpectedScatter,
): RobustAverage {
  const count = east.length;
  if (count === 0 || north.length !== count || up.length !== count) {
    throw new InternalError('epochs to average: none, or of unequal lengths');
  }
  const medianEastM = median(east);
  const medianNorthM = median(north);
  const medianUpM = median(up);
  const madEastM = MAD_TO_SIGMA * medianAbsoluteDeviation(east, medianEastM);
  const madNorthM = MAD_TO_SIGMA * medianAbsoluteDeviation(north, medianNorthM);
  const madUpM = MAD_TO_SIGMA * medianAbsoluteDeviation(up, medianUpM);
  const outlier = new Uint8Array(count);
  screen(east, medianEastM, madEastM, expected.horizontal, outlier);
  screen(north, medianNorthM, madNorthM, expected.horizontal, outlier);
  screen(up, medianUpM, madUpM, expected.vertical, outlier);
  let outlierCount = 0;
  for (let i = 0; i < count; i += 1) outlierCount += outlier[i] as number;
  const left = outlierCount === count ? new Uint8Array(count) : outlier;
  const kept = outlierCount === count ? count : count - outlierCount;
  const weightsEast = new Float64Array(count);
  const weightsNorth = new Float64Array(count);
  const weightsUp = new Float64Array(count);
  return {
    eastM: huberMean(east, left, medianEastM, Math.max(madEastM, MAD_FLOOR_M), weightsEast),
    northM: huberMean(north, left, medianNorthM, Math.max(madNorthM, MAD_FLOOR_M), weightsNorth),
    upM: huberMean(up, left, medianUpM, Math.max(madUpM, MAD_FLOOR_M), weightsUp),
    meanEastM: plainMean(east, left, medianEastM, kept),
    meanNorthM: plainMean(north, left, medianNorthM, kept),
    meanUpM: plainMean(up, left, medianUpM, kept),
    medianEastM,
    medianNorthM,
    medianUpM,
    madEastM,
    madNorthM,
    madUpM,
    weightsEast,
    weightsNorth,
    weightsUp,
    outlier,
    outlierCount,
    usedCount: count - outlierCount,
    tooManyOutliers: outlierCount > 1 && outlierCount * 10 > count,
  };
}
