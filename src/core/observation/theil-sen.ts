import { median } from '../numeric/median.js';

/** At most this many block means enter the pairs: 1,770 slopes. */
const MOST_BLOCKS = 60;

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
  const count = timesS.length;
  const blocks = Math.min(count, MOST_BLOCKS);
  const blockTimes = new Float64Array(blocks);
  const blockValues = new Float64Array(blocks);
  const originS = timesS[0] ?? 0;
  const origin = values[0] ?? 0;
  for (let block = 0; block < blocks; block += 1) {
    const from = Math.floor((block * count) / blocks);
    const to = Math.floor(((block + 1) * count) / blocks);
    let time = 0;
    let value = 0;
    for (let i = from; i < to; i += 1) {
      time += (timesS[i] ?? 0) - originS;
      value += (values[i] ?? 0) - origin;
    }
    blockTimes[block] = time / (to - from);
    blockValues[block] = value / (to - from);
  }
  const slopes = new Float64Array((blocks * (blocks - 1)) / 2);
  let pairs = 0;
  for (let j = 1; j < blocks; j += 1) {
    for (let i = 0; i < j; i += 1) {
      const stepS = (blockTimes[j] ?? 0) - (blockTimes[i] ?? 0);
      if (stepS <= 0) continue;
      slopes[pairs] = ((blockValues[j] ?? 0) - (blockValues[i] ?? 0)) / stepS;
      pairs += 1;
    }
  }
  return pairs === 0 ? 0 : median(slopes.subarray(0, pairs));
}
