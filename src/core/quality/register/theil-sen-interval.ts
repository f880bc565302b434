import { median } from '../../numeric/median.js';
import { inversionTail } from './kendall-tail.js';

/** A slope, and the interval that holds it. Units: of the values a unit of time. */
export interface SlopeInterval {
  readonly slope: number;
  /** Ends of the interval; null where so few values give none of the confidence asked for. */
  readonly interval: { readonly low: number; readonly high: number; readonly confidence: number } | null;
}

/** Values beyond this many are not taken: the slopes of all pairs would not fit a look. */
const MOST_VALUES = 2000;

/**
 * Theil–Sen slope, the median of the slopes of all pairs, with the exact interval of Sen: the slopes that stand as far
 * from both ends as Kendall's S allows.
 *
 * Given: times, no two the same; values, as many, 2 or more; the confidence asked for, such as 0.95. Returned: the slope;
 * the narrowest interval of at least that confidence, with its own; null for times that repeat or more than 2,000 values.
 *
 * Notes: 1. Below five values no interval has 95 %. 2. Values must be independent and alike but for the trend; where some
 * are the same, the interval is a little wide.
 *
 * Reference: SEN-1968.
 *
 * @example
 * // HOLLANDER-WOLFE-1999, example 9.3, from memory.
 * const rainfall = theilSenInterval([1, 2, 3, 4, 5], [1.26, 1.27, 1.12, 1.16, 1.03], 0.9);
 * rainfall?.slope; // -0.05625
 * rainfall?.interval?.low; // -0.130
 * rainfall?.interval?.high; // 0.010
 */
export function theilSenInterval(
  times: ArrayLike<number>,
  values: ArrayLike<number>,
  confidence: number,
): SlopeInterval | null {
  const count = times.length;
  if (count < 2 || count > MOST_VALUES || values.length !== count) return null;
  const slopes = new Float64Array((count * (count - 1)) / 2);
  let pairs = 0;
  for (let j = 1; j < count; j += 1)
    for (let i = 0; i < j; i += 1) {
      const step = (times[j] as number) - (times[i] as number);
      if (step === 0) return null;
      slopes[pairs] = ((values[j] as number) - (values[i] as number)) / step;
      pairs += 1;
    }
  slopes.sort();
  return { slope: median(slopes), interval: intervalOf(slopes, inversionTail(count), confidence) };
}

function intervalOf(slopes: Float64Array, tail: Float64Array, confidence: number): SlopeInterval['interval'] {
  let left = -1;
  // Half a unit of rounding, so that a level that is met exactly counts as met.
  while ((tail[left + 1] as number) <= (1 - confidence) / 2 + 1e-12) left += 1;
  if (left < 0) return null;
  return {
    low: slopes[left] as number,
    high: slopes[slopes.length - 1 - left] as number,
    confidence: 1 - 2 * (tail[left] as number),
  };
}
