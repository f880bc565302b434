import { normalQuantile } from '../../numeric/distributions/normal-quantile.js';
import { studentTQuantile } from '../../numeric/distributions/student-t.js';
import { EPOCH_SCREEN_LEVEL, TWO_EPOCHS_LEVEL } from '../../quality/decision-levels.js';
import type { AxisScatter } from './expected-scatter.js';

const AXES = 3;
/** z of the smallest count the screen looks at, 3: no limit lies nearer than this many expected sigmas. */
const LEAST_SIGMAS = normalQuantile(1 - EPOCH_SCREEN_LEVEL / (2 * AXES * 3));
/** Of half the difference of two epochs, in sigmas of one. */
const TWO_EPOCHS_SIGMAS = normalQuantile(1 - TWO_EPOCHS_LEVEL / (2 * AXES)) / Math.SQRT2;

/** b_n of 2 to 9 values. */
const MAD_FACTORS: readonly number[] = [1.196, 1.495, 1.363, 1.206, 1.2, 1.14, 1.129, 1.107];

/**
 * What 1.4826·MAD of n normal values must be multiplied by to be right on average.
 *
 * Given: n, at least 2. Reference: CROUX-1992, b_n; from memory, and reproduced by simulation to 1 %.
 */
export function madFactor(count: number): number {
  return MAD_FACTORS[count - 2] ?? count / (count - 0.8);
}

/**
 * How far from the median of its occupation an epoch may lie on one axis before it is screened out.
 *
 * With n epochs, σ the scatter expected, σ_a the most allowed and s = b_n·1.4826·MAD the scatter seen:
 *
 *     limit = √(1 + π/2n) · min(√((z σ)² + (t s)²), z σ_a)
 *
 * z and t are the two-sided limits of the normal and of Student's distribution with (n − 1)/2 degrees of freedom at
 * the level of the screen shared over 3n values (Bonferroni). Two epochs cannot say which is wrong: theirs is the
 * limit of half their difference, z(3 axes)·σ_a/√2.
 *
 * Given: n, at least 2; 1.4826·MAD, metres; what is expected of the axis. Returned: metres.
 *
 * Notes:
 * 1. The expected scatter keeps clean epochs that happen to agree closely from losing one; the scatter seen widens the
 *    limit where the day is noisier than the model, up to what is allowed. Beyond that epochs are refused.
 * 2. MAD of few values is a poor scale; a deviation over it follows no simple law. Student's with half the degrees of
 *    freedom a mean square would have is right to a tenth from 3 to 300 values, on the safe side below 40 (simulated).
 * 3. √(1 + π/2n) is the spread of a deviation from the median, whose own variance is πσ²/2n for large n.
 *
 * Reference: CROUX-1992 for b_n; docs/methods/averaging.md for the rates measured.
 */
export function screenLimitM(count: number, madM: number, expected: AxisScatter): number {
  if (count <= 2) return TWO_EPOCHS_SIGMAS * expected.mostM;
  const { z, t } = screenFactors(count);
  const seenM = t * madFactor(count) * madM;
  const expectedM = z * expected.withinM;
  return medianSpread(count) * Math.min(Math.sqrt(expectedM * expectedM + seenM * seenM), z * expected.mostM);
}

/** The two-sided limits of the screen for n epochs, sigmas: normal, and Student's with (n − 1)/2 degrees of freedom; of two epochs the one limit of half their difference. */
export function screenFactors(count: number): { readonly z: number; readonly t: number } {
  if (count <= 2) return { z: TWO_EPOCHS_SIGMAS, t: TWO_EPOCHS_SIGMAS };
  const p = 1 - EPOCH_SCREEN_LEVEL / (2 * AXES * count);
  return { z: normalQuantile(p), t: studentTQuantile(p, (count - 1) / 2) };
}

/** A distance that is never above `screenLimitM`, in no time: nearer epochs need not be looked at. */
export function screenedFromM(count: number, expected: AxisScatter): number {
  if (count <= 2) return TWO_EPOCHS_SIGMAS * expected.mostM;
  return medianSpread(count) * LEAST_SIGMAS * expected.withinM;
}

function medianSpread(count: number): number {
  return Math.sqrt(1 + Math.PI / (2 * count));
}
