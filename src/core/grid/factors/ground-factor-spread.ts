import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

/** How much the combined factor varies over a job, and what that does over its extent. */
export interface FactorSpread {
  readonly minimum: number;
  readonly maximum: number;
  /** (maximum − minimum) ÷ the factor of the scale, parts per million. */
  readonly spreadPpm: number;
  /** Greatest |factor ÷ the factor of the scale − 1| of any point, parts per million. */
  readonly worstPpm: number;
  /** Extent the lengths below belong to, metres. */
  readonly extentM: number;
  /** Spread × extent, millimetres. */
  readonly spreadMm: number;
  /** Worst × extent, millimetres. */
  readonly worstMm: number;
}

/**
 * Spread of the combined factor over a job.
 *
 * Given: combined factor of each point; the factor of the ground scale; the extent of the job
 * (greatest distance between two of its points), metres. Returned: the spread, or null where there
 * is no point. Errors: none; the caller has checked that the factors are finite and above 0.
 *
 * Note: a line measured on the ground where the factor is CF is drawn too long or short by
 * CF ÷ CF₀ − 1 of its length; spread × extent bounds that for every line of the job when the
 * scale's factor lies within the factors of the job.
 */
export function factorSpread(factors: ArrayLike<number>, scaleFactor: number, extentM: number): FactorSpread | null {
  if (factors.length === 0) return null;
  let minimum = Infinity;
  let maximum = -Infinity;
  for (let i = 0; i < factors.length; i += 1) {
    const factor = factors[i] as number;
    if (factor < minimum) minimum = factor;
    if (factor > maximum) maximum = factor;
  }
  const spread = (maximum - minimum) / scaleFactor;
  const worst = Math.max(Math.abs(maximum - scaleFactor), Math.abs(minimum - scaleFactor)) / scaleFactor;
  return {
    minimum,
    maximum,
    spreadPpm: spread * 1e6,
    worstPpm: worst * 1e6,
    extentM,
    spreadMm: spread * extentM * 1e3,
    worstMm: worst * extentM * 1e3,
  };
}

/**
 * The refusal rule of one ground scale for a job.
 *
 * Given: spread; tolerance, metres. Returned: method-ground-spread where spread × extent, or the
 * worst point × extent where the scale's point lies outside the job, exceeds the tolerance; else
 * null. Reference: common practice, no published source.
 */
export function groundSpreadProblem(spread: FactorSpread, toleranceM: number): Problem | null {
  const greatestMm = Math.max(spread.spreadMm, spread.worstMm);
  if (greatestMm <= toleranceM * 1e3) return null;
  const ppm = Math.max(spread.spreadPpm, spread.worstPpm);
  return errorProblem('method-ground-spread', {
    message:
      `the combined factor differs by ${oneDecimal(ppm)} ppm, which over ${oneDecimal(spread.extentM / 1000)} km ` +
      `is ${oneDecimal(greatestMm)} mm and above the tolerance of ${oneDecimal(toleranceM * 1e3)} mm`,
    hint: 'split the job, choose a point in its middle and at its mean height, or keep grid coordinates',
  });
}

/** No point of a job lies farther than this from where its ground scale holds, metres. Common practice, no published source. */
const MOST_FROM_SCALE_M = 50_000;

/**
 * Given: distance of the nearest point from that of the scale, metres, null where there is none; how far its factor is off at the worst point, ppm.
 * Returned: method-ground-far where all points lie more than 50 km away: the place was typed wrongly more often than not; else null.
 */
export function groundFarProblem(nearestM: number | null, worstPpm: number): Problem | null {
  if (nearestM === null || nearestM <= MOST_FROM_SCALE_M) return null;
  return errorProblem('method-ground-far', {
    message: `the place that the ground scale holds at is ${oneDecimal(nearestM / 1000)} km from the nearest point, and the scale is wrong there by up to ${oneDecimal(worstPpm)} ppm`,
    received: `${oneDecimal(nearestM / 1000)} km`,
    expected: `${oneDecimal(MOST_FROM_SCALE_M / 1000)} km or less`,
    hint: 'give a place in the middle of the job: --ground-at LAT,LON,H',
  });
}

function oneDecimal(value: number): string {
  return String(Math.round(value * 10) / 10);
}
