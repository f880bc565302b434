import { correlatedQuadraticForm } from './correlated-mean.js';
import { theilSen } from './theil-sen.js';

/** What is expected of one axis while the antenna stands still. */
export interface AxisNoise {
  /** Fast noise of one epoch (`fastNoise`), one sigma. */
  readonly whiteM: number;
  /** Slow error by the planning model, one sigma. */
  readonly correlatedM: number;
  /** Its correlation time. */
  readonly correlationS: number;
}

/** Drift and step of one axis over an occupation. */
export interface TrendTest {
  /** Theil–Sen slope times the time spanned, metres. */
  readonly driftM: number;
  /** One sigma of that under the noise expected. */
  readonly driftSigmaM: number;
  readonly isDrift: boolean;
  /** Mean after minus mean before the most striking epoch, metres; 0 with fewer than 6 epochs. */
  readonly stepM: number;
  readonly stepSigmaM: number;
  /** First epoch after the step, from 0; null: fewer than 6 epochs. */
  readonly stepAt: number | null;
  readonly isStep: boolean;
}

const LEAST_EPOCHS = 6;
/** A step has at least so many epochs on either side. */
const LEAST_SIDE = 3;
/** Two-sided 0.1 % of a normal error. */
const DRIFT_SIGMAS = 3.290526731491926;
const STEP_LEVEL = 0.001;
/** Smaller drifts and steps are of no account in a survey, metres. */
const LEAST_CHANGE_M = 0.003;
const WHITE_FLOOR_M = 0.0003;
/** Variance of a Theil–Sen slope over that of least squares on normal errors, π/3. */
const THEIL_SEN_LOSS = Math.PI / 3;

const NOTHING: TrendTest = Object.freeze({
  driftM: 0, driftSigmaM: 0, isDrift: false, stepM: 0, stepSigmaM: 0, stepAt: null, isStep: false,
});

/**
 * Tests one axis of an occupation for drift and for a step.
 *
 * Drift: Theil–Sen slope × time spanned, against σ² = T²(π/3·σ_w²/Σ(t−t̄)² + σ_c²·cᵀKc) with
 * c = (t−t̄)/Σ(t−t̄)² and K = exp(−|Δt|/τ), at 3.29 σ. Step: the split that most exceeds white noise,
 * at least 3 epochs from either end, against σ² = σ_w²(1/k + 1/(n−k)) + σ_c²·cᵀKc with c the weights of
 * the two means, at √(2 ln(m/0.001)) σ for m splits. Both must also exceed 3 mm. Where both hold, the
 * one that leaves the smaller sum of squares is kept.
 *
 * Given: times, seconds, never falling; the axis, metres, of accepted epochs without lone outliers;
 * what is expected of it. Fewer than 6 epochs, or no time spanned: no test.
 *
 * Notes: a positive answer means more change than the planning model explains. The step limit bounds
 * the normal tail by exp(−z²/2) and the splits by Bonferroni, so its level is at most 0.1 %.
 *
 * Reference: SEN-1968 for the slope; variances are those of a linear combination of correlated epochs
 * (`correlatedQuadraticForm`).
 */
export function trendTest(timesS: ArrayLike<number>, values: ArrayLike<number>, noise: AxisNoise): TrendTest {
  const count = timesS.length;
  const firstS = timesS[0] as number;
  const spanS = (timesS[count - 1] as number) - firstS;
  if (count < LEAST_EPOCHS || !(spanS > 0)) return NOTHING;
  const white = Math.max(noise.whiteM, WHITE_FLOOR_M) ** 2;
  const slow = noise.correlatedM ** 2;

  let timeSum = 0;
  for (let i = 0; i < count; i += 1) timeSum += (timesS[i] as number) - firstS;
  const middleS = firstS + timeSum / count;
  let timeSquares = 0;
  for (let i = 0; i < count; i += 1) timeSquares += ((timesS[i] as number) - middleS) ** 2;
  const weights = new Float64Array(count);
  for (let i = 0; i < count; i += 1) weights[i] = ((timesS[i] as number) - middleS) / timeSquares;
  const slope = theilSen(timesS, values);
  const driftM = slope * spanS;
  const driftSigmaM =
    spanS *
    Math.sqrt(
      (THEIL_SEN_LOSS * white) / timeSquares +
        slow * correlatedQuadraticForm(timesS, weights, noise.correlationS),
    );
  const isDrift = Math.abs(driftM) > Math.max(LEAST_CHANGE_M, DRIFT_SIGMAS * driftSigmaM);

  const origin = values[0] as number;
  let total = 0;
  let squares = 0;
  let trended = 0;
  let trendedSquares = 0;
  for (let i = 0; i < count; i += 1) {
    const value = (values[i] as number) - origin;
    const rest = value - slope * ((timesS[i] as number) - middleS);
    total += value;
    squares += value * value;
    trended += rest;
    trendedSquares += rest * rest;
  }
  let before = 0;
  let best = -1;
  let stepAt = LEAST_SIDE;
  let stepM = 0;
  for (let k = 1; k <= count - LEAST_SIDE; k += 1) {
    before += (values[k - 1] as number) - origin;
    if (k < LEAST_SIDE) continue;
    const difference = (total - before) / (count - k) - before / k;
    const gain = (difference * difference * k * (count - k)) / count;
    if (gain > best) {
      best = gain;
      stepAt = k;
      stepM = difference;
    }
  }
  for (let i = 0; i < count; i += 1) weights[i] = i < stepAt ? -1 / stepAt : 1 / (count - stepAt);
  const stepSigmaM = Math.sqrt(
    white * (1 / stepAt + 1 / (count - stepAt)) +
      slow * correlatedQuadraticForm(timesS, weights, noise.correlationS),
  );
  const splits = count - 2 * LEAST_SIDE + 1;
  const stepSigmas = Math.sqrt(2 * Math.log(splits / STEP_LEVEL));
  const isStep = Math.abs(stepM) > Math.max(LEAST_CHANGE_M, stepSigmas * stepSigmaM);

  const leftByStep = squares - (total * total) / count - best;
  const leftByDrift = trendedSquares - (trended * trended) / count;
  const stepFitsBetter = leftByStep < leftByDrift;
  return {
    driftM,
    driftSigmaM,
    isDrift: isDrift && !(isStep && stepFitsBetter),
    stepM,
    stepSigmaM,
    stepAt,
    isStep: isStep && !(isDrift && !stepFitsBetter),
  };
}
