import { InternalError } from '../../../records/internal-error.js';
import { studentTQuantile } from './student-t.js';

/**
 * Critical value of Pope's τ of two coordinates of a point together: √(what vᵀPv loses without them / s²).
 *
 * Given: count of points tested; redundancy ν, whole; probability of a false alarm in the whole set, shared out evenly.
 * Returned: √(ν(1 − (α/n)^(2/(ν − 2)))); null with ν below 3, where nothing is left to compare with.
 * Note: the loss over vᵀPv follows the beta distribution with 1 and (ν − 2)/2, whose upper tail is (1 − x)^((ν − 2)/2);
 * that is F with 2 and ν − 2 degrees of freedom. Reference: POPE-1976 for one; for two, textbook (F of a model with two more unknowns).
 */
export function tauCriticalOfTwo(count: number, redundancy: number, falseAlarmProbability: number): number | null {
  return redundancy < 3
    ? null
    : Math.sqrt(redundancy * -Math.expm1((2 * Math.log(falseAlarmProbability / count)) / (redundancy - 2)));
}

/**
 * Critical value of Pope's τ: the largest standardised residual that chance alone should give when
 * the variance factor is estimated from the same residuals.
 *
 * Given: count of residuals tested; redundancy ν, whole and at least 2; probability of a false alarm
 * in the whole set (0.05). It is shared out evenly: each residual is tested at α/n, on both sides.
 * Returned: τ = √ν·t / √(ν − 1 + t²) with t = t(1 − α/2n, ν − 1); never above √ν.
 * Errors: InternalError for a count below 1, ν below 2, or α outside 0…1.
 * Note: sharing out treats the residuals as independent; where they correlate the test is a little
 * cautious. Reference: POPE-1976.
 */
export function tauCritical(count: number, redundancy: number, falseAlarmProbability: number): number {
  if (!(count >= 1 && redundancy >= 2)) throw new InternalError('a tau test needs a residual and a redundancy of 2');
  const t = studentTQuantile(1 - falseAlarmProbability / (2 * count), redundancy - 1);
  return (Math.sqrt(redundancy) * t) / Math.hypot(Math.sqrt(redundancy - 1), t);
}
