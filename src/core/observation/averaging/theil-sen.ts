import { medianInPlace } from '../../numeric/median.js';

/** At most this many block means enter the pairs: 1,770 slopes. */
const MOST_BLOCKS = 60;
/** Room for the slopes of as many, so that each of a million stands asks for none. */
const SLOPES = new Float64Array((MOST_BLOCKS * (MOST_BLOCKS - 1)) / 2);

/**
 * Theil–Sen slope: the median of the slopes of all pairs.
 *
 * Given: times, seconds, never falling, and values of any unit, of equal length.
 * Returned: unit per second; 0 where no two times differ.
 *
 * Notes: beyond 60 values, the slope is that of the means of 60 equal consecutive blocks, which costs
 * time in proportion to the count and loses little of the precision.
 *
 * Reference: SEN-1968.
 */
export function theilSen(timesS: ArrayLike<number>, values: ArrayLike<number>): number {
  if (timesS.length <= MOST_BLOCKS) return medianSlope(timesS, values);
  return medianSlope(blockMeans(timesS), blockMeans(values));
}

function blockMeans(values: ArrayLike<number>): Float64Array {
  const means = new Float64Array(MOST_BLOCKS);
  const origin = values[0] as number;
  for (let block = 0; block < MOST_BLOCKS; block += 1) {
    const from = Math.floor((block * values.length) / MOST_BLOCKS);
    const to = Math.floor(((block + 1) * values.length) / MOST_BLOCKS);
    let sum = 0;
    for (let i = from; i < to; i += 1) sum += (values[i] as number) - origin;
    means[block] = origin + sum / (to - from);
  }
  return means;
}

function medianSlope(timesS: ArrayLike<number>, values: ArrayLike<number>): number {
  const count = timesS.length;
  let pairs = 0;
  for (let j = 1; j < count; j += 1) {
    const timeS = timesS[j] as number;
    const value = values[j] as number;
    for (let i = 0; i < j; i += 1) {
      const stepS = timeS - (timesS[i] as number);
      if (stepS <= 0) continue;
      SLOPES[pairs] = (value - (values[i] as number)) / stepS;
      pairs += 1;
    }
  }
  return pairs === 0 ? 0 : medianInPlace(SLOPES, pairs);
}
