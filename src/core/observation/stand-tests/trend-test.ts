import { normalQuantile } from '../../numeric/distributions/normal-quantile.js';
import { studentTQuantile } from '../../numeric/distributions/student-t.js';
import { createValueRoom } from '../../numeric/kept-room.js';
import { CORRELATION_ALLOWANCE, DRIFT_LEVEL, STEP_LEVEL } from '../../quality/decision-levels.js';
import { correlatedQuadraticForm } from '../averaging/correlated-mean.js';
import { theilSen } from '../averaging/theil-sen.js';

/** What is expected of one axis while the antenna stands still, beside noise from epoch to epoch. */
export interface AxisNoise {
  /** What does not grow with the baseline, one sigma by the planning model: receiver, antennas, surroundings. */
  readonly constantM: number;
  /** What grows with it. */
  readonly growingM: number;
  /** Correlation time of the model, believed to within `CORRELATION_ALLOWANCE`. */
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
const AXES = 3;
/** Level of one axis, both signs. */
const AXIS_DRIFT_LEVEL = DRIFT_LEVEL / AXES;
const AXIS_STEP_LEVEL = STEP_LEVEL / AXES;
/** Smaller drifts and steps are of no account in a survey, metres. */
const LEAST_CHANGE_M = 0.003;
const WHITE_FLOOR_M = 0.0003;
/** Correlation time, in times spanned, at which a slow error changes most between the ends or the halves. */
const MOST_ROOM_AT = 0.3;
/** Variance of a Theil–Sen slope over that of least squares on normal errors, π/3. */
const THEIL_SEN_LOSS = Math.PI / 3;

/** No change within this many sigmas is real, at any degrees of freedom. */
const LEAST_SIGMAS = normalQuantile(1 - Math.max(AXIS_DRIFT_LEVEL, AXIS_STEP_LEVEL) / 2);

const weightRoom = createValueRoom();

const NOTHING: TrendTest = Object.freeze({
  driftM: 0,
  driftSigmaM: 0,
  isDrift: false,
  stepM: 0,
  stepSigmaM: 0,
  stepAt: null,
  isStep: false,
});

/**
 * Tests one axis of an occupation for drift and for a step.
 *
 * Drift: Theil–Sen slope × time spanned, with σ_s² = T²·π/3·s²/Σ(t−t̄)² and σ_m² = T²(a²·cᵀK_a c + g²·cᵀK_g c),
 * c = (t−t̄)/Σ(t−t̄)². Step: the split that most exceeds white noise, at least 3 epochs from either end, with
 * σ_s² = s²(1/k + 1/(n−k)) and σ_m² likewise, c the weights of the two means. s² is the mean square about the line or
 * about the two means, of n − 2 degrees of freedom; a and g are the constant and the growing sigma of the model;
 * K = exp(−|Δt|/τ′) with τ′ a third of the model's correlation time, for a at most 0.3 T, which leaves most room.
 * A change is real beyond √((t σ_s)² + (z σ_m)²), t and z the two-sided limits of Student's and the normal
 * distribution, and beyond 3 mm; the level of a step is shared over the splits. Where both are real, the one that
 * leaves the smaller sum of squares is kept.
 *
 * Given: times, seconds, never falling; the axis, metres, of accepted epochs without lone outliers; what is expected of
 * it. Fewer than 6 epochs, or no time spanned: no test.
 *
 * Notes:
 * 1. A positive answer means more change than the planning model explains, at `DRIFT_LEVEL` and `STEP_LEVEL`.
 * 2. The scatter seen includes some of the slow error and counts it twice; that errs on the side of silence.
 * 3. The most striking split is the largest of all where noise is white, so that sharing the level bounds it.
 *
 * Reference: SEN-1968 for the slope; variances are those of a linear combination of correlated epochs
 * (`correlatedQuadraticForm`); 0.3 T found by evaluating it; docs/methods/averaging.md for the rates measured.
 */
export function trendTest(timesS: ArrayLike<number>, values: ArrayLike<number>, noise: AxisNoise): TrendTest {
  const count = timesS.length;
  const firstS = timesS[0] as number;
  const spanS = (timesS[count - 1] as number) - firstS;
  if (count < LEAST_EPOCHS || !(spanS > 0)) return NOTHING;
  const slowVariance = slowVarianceOf(timesS, spanS, noise);

  let timeSum = 0;
  for (let i = 0; i < count; i += 1) timeSum += (timesS[i] as number) - firstS;
  const middleS = firstS + timeSum / count;
  let timeSquares = 0;
  for (let i = 0; i < count; i += 1) timeSquares += ((timesS[i] as number) - middleS) ** 2;
  const weights = weightRoom(count).subarray(0, count);
  for (let i = 0; i < count; i += 1) weights[i] = ((timesS[i] as number) - middleS) / timeSquares;
  const slope = theilSen(timesS, values);
  const driftM = slope * spanS;
  const slowDrift = spanS * spanS * slowVariance(weights);

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
  const { gain: best, at: stepAt, differenceM: stepM } = bestSplit(values, origin, total);
  for (let i = 0; i < count; i += 1) weights[i] = i < stepAt ? -1 / stepAt : 1 / (count - stepAt);
  const leftByStep = Math.max(0, squares - (total * total) / count - best);
  const leftByDrift = Math.max(0, trendedSquares - (trended * trended) / count);
  const freedom = count - 2;
  const drift = changeOf(driftM, {
    seen: (spanS * spanS * THEIL_SEN_LOSS * whiteVariance(leftByDrift, freedom)) / timeSquares,
    slow: slowDrift,
    freedom,
    level: AXIS_DRIFT_LEVEL,
  });
  const step = changeOf(stepM, {
    seen: whiteVariance(leftByStep, freedom) * (1 / stepAt + 1 / (count - stepAt)),
    slow: slowVariance(weights),
    freedom,
    level: AXIS_STEP_LEVEL / (count - 2 * LEAST_SIDE + 1),
  });
  const stepFitsBetter = leftByStep < leftByDrift;
  return {
    driftM,
    driftSigmaM: drift.sigmaM,
    isDrift: drift.isReal && !(step.isReal && stepFitsBetter),
    stepM,
    stepSigmaM: step.sigmaM,
    stepAt,
    isStep: step.isReal && !(drift.isReal && !stepFitsBetter),
  };
}

/** The split that explains most of the squares about one mean: how much, after how many epochs, and second mean minus first. */
interface Split {
  readonly gain: number;
  readonly at: number;
  readonly differenceM: number;
}

/** Given: the axis, metres; its first value, and the sum of all differences from that. */
function bestSplit(values: ArrayLike<number>, origin: number, total: number): Split {
  const count = values.length;
  let before = 0;
  let best = -1;
  let at = LEAST_SIDE;
  let differenceM = 0;
  for (let k = 1; k <= count - LEAST_SIDE; k += 1) {
    before += (values[k - 1] as number) - origin;
    if (k < LEAST_SIDE) continue;
    const difference = (total - before) / (count - k) - before / k;
    const gain = (difference * difference * k * (count - k)) / count;
    if (gain > best) {
      best = gain;
      at = k;
      differenceM = difference;
    }
  }
  return { gain: best, at, differenceM };
}

function whiteVariance(left: number, freedom: number): number {
  return Math.max(left / freedom, WHITE_FLOOR_M * WHITE_FLOOR_M);
}

/** Variance of a combination of the epochs from the slow error of the model. */
function slowVarianceOf(
  timesS: ArrayLike<number>,
  spanS: number,
  noise: AxisNoise,
): (weights: ArrayLike<number>) => number {
  const shortestS = noise.correlationS / CORRELATION_ALLOWANCE;
  const variance = (weights: ArrayLike<number>, sigmaM: number, correlationS: number): number =>
    sigmaM === 0 ? 0 : sigmaM * sigmaM * correlatedQuadraticForm(timesS, weights, correlationS);
  return (weights) =>
    variance(weights, noise.constantM, Math.min(shortestS, MOST_ROOM_AT * spanS)) +
    variance(weights, noise.growingM, shortestS);
}

interface ChangeNoise {
  /** Variance from the scatter seen, m², and its degrees of freedom. */
  readonly seen: number;
  readonly freedom: number;
  /** Variance from the model, m². */
  readonly slow: number;
  readonly level: number;
}

function changeOf(
  changeM: number,
  { seen, slow, freedom, level }: ChangeNoise,
): { readonly sigmaM: number; readonly isReal: boolean } {
  const sigmaM = Math.sqrt(seen + slow);
  const sizeM = Math.abs(changeM);
  // No limit is nearer than this: most occupations need no distribution.
  if (sizeM <= Math.max(LEAST_CHANGE_M, LEAST_SIGMAS * sigmaM)) return { sigmaM, isReal: false };
  const t = studentTQuantile(1 - level / 2, freedom);
  const z = normalQuantile(1 - level / 2);
  return { sigmaM, isReal: sizeM > Math.sqrt(t * t * seen + z * z * slow) };
}
