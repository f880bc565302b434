import type { Draft } from '../../../records/draft.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { UncertaintyParts } from '../../../records/points/reduced-point.js';
import { createErrorNumbers } from '../averaging/joint-steps.js';
import type { Matrix3 } from '../../numeric/symmetric3.js';
import { lessCovariance, ZERO_COVARIANCE } from '../uncertainty/local-covariance.js';
import { correlationAfter, isTimed, middleMs, RECORDING_VARIANCE_M2 } from './occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from './occupation-estimate.js';
import { addCovariance, addThrough, addWeight, NO_WEIGHT } from './weighted-sums.js';

/** The parts of the covariance of joined occupations, m²; their sum is that covariance. */
export type CombinedParts = Pick<
  UncertaintyParts,
  'noise' | 'correlated' | 'baseline' | 'age' | 'pole' | 'base' | 'bend'
>;

/** The parts of an occupation that its estimate holds within others, m². */
export interface HeldParts {
  /** Within `independent`. */
  readonly pole: LocalCovariance;
  /** Within `correlated`. */
  readonly age: LocalCovariance;
  /** Within `setup`. */
  readonly bend: LocalCovariance;
}

/**
 * What the covariance of joined occupations is made of. The joined position is Σ Wᵢxᵢ, and the covariance of
 * the x is a sum of independent parts, so the covariance of the position is the sum of Σᵢⱼ Wᵢ Pᵢⱼ Wⱼᵀ over the
 * parts P. Noise and pole belong to one occupation alone and shrink with their count; slow errors shrink as far
 * as time lies between; the error of a shared mark or set-up does not shrink. What is left of the slow error that does not grow
 * is shared out to the age of the corrections as its variances before the joining were, axis by axis.
 *
 * Given: the estimates and times that `combineOccupations` was given; the parts that each holds within others, m²; the weights it
 * returned. Returned: the parts, m². The recording variance counts as noise. Time grows with the count.
 *
 * Reference: textbook identity, the covariance of Wx is W C Wᵀ; the tests hold the sum of the parts against
 * `combineOccupations`.
 *
 * @example
 * // Of two occupations noise is halved, and the error of the mark they share is not.
 * const none = { eeM2: 0, enM2: 0, euM2: 0, nnM2: 0, nuM2: 0, uuM2: 0 };
 * const same = { eeM2: 1e-4, enM2: 0, euM2: 0, nnM2: 1e-4, nuM2: 0, uuM2: 1e-4 };
 * const parts = { independent: same, correlated: none, baseline: none, mark: same, setup: none, markKey: 'M', setupKey: 'S' };
 * const one = { position: { eastM: 0, northM: 0, upM: 0 }, ...parts, baselineM: 5000, startMs: 0, endMs: 0 };
 * const times = { correlationHorizontalS: 115, correlationVerticalS: 300 };
 * const { weights } = combineOccupations([one, one], times);
 * const held = { pole: none, age: none, bend: none };
 * const { noise, base } = splitCombined([one, one], [held, held], times, weights);
 * [noise.eeM2 * 1e4, base.eeM2 * 1e4]; // [0.500, 1.000]
 */
export function splitCombined(
  estimates: readonly OccupationEstimate[],
  held: readonly HeldParts[],
  times: CorrelationTimes,
  weights: readonly Matrix3[],
): CombinedParts {
  const timed = estimates.every(isTimed);
  const middles = estimates.map((estimate) => (timed ? middleMs(estimate) : 0));
  const order = estimates.map((_, index) => index);
  if (timed) order.sort((a, b) => (middles[a] as number) - (middles[b] as number) || a - b);
  const joined = { estimates, weights, times, middles: timed ? middles : null };
  const { ofMark, ofSetup } = createErrorNumbers();
  const marks = grouped(order, estimates, ({ markKey }) => ofMark(markKey));
  const setups = grouped(order, estimates, ({ markKey, setupKey }) => ofSetup(markKey, setupKey));
  const constant = { ...ZERO_COVARIANCE };
  addSlow(constant, joined, order, 'correlated');
  const baseline = { ...ZERO_COVARIANCE };
  for (const group of marks) {
    const own = { ...ZERO_COVARIANCE };
    addSlow(own, joined, group, 'baseline');
    addCovariance(baseline, own);
  }
  const age = shareOf(constant, held, estimates);
  const bend = { ...ZERO_COVARIANCE };
  // One matrix for one mark and one set-up, as in the joining: that of the first in time.
  for (const group of setups) {
    const weight = { ...NO_WEIGHT };
    for (const index of group) addWeight(weight, weights[index] as Matrix3);
    addThrough(bend, weight, (held[group[0] as number] as HeldParts).bend);
  }
  const noise = { ...ZERO_COVARIANCE };
  const pole = { ...ZERO_COVARIANCE };
  for (let index = 0; index < weights.length; index += 1) {
    const own = (held[index] as HeldParts).pole;
    addThrough(noise, weights[index] as Matrix3, noiseOf(estimates[index] as OccupationEstimate, own));
    addThrough(pole, weights[index] as Matrix3, own);
  }
  return {
    noise,
    correlated: lessCovariance(constant, age),
    baseline,
    age,
    pole,
    base: lessCovariance(sharedPart(order, estimates, weights), bend),
    bend,
  };
}

/** What is left of the errors of marks and set-ups, each with the weight of all occupations that have it; the first's covariance counts. */
function sharedPart(
  order: readonly number[],
  estimates: readonly OccupationEstimate[],
  weights: readonly Matrix3[],
): LocalCovariance {
  const { ofMark, ofSetup } = createErrorNumbers();
  const found: (SharedError | undefined)[] = [];
  const errors: SharedError[] = [];
  const add = (error: number, covariance: LocalCovariance, weight: Matrix3): void => {
    let own = found[error];
    if (own === undefined) {
      own = { covariance, weight: { ...NO_WEIGHT } };
      found[error] = own;
      errors.push(own);
    }
    addWeight(own.weight, weight);
  };
  for (const index of order) {
    const { mark, markKey, setup, setupKey, inherited } = estimates[index] as OccupationEstimate;
    const weight = weights[index] as Matrix3;
    add(ofMark(markKey), mark, weight);
    add(ofSetup(markKey, setupKey), setup, weight);
    // Absent: no mark is inherited.
    if (inherited !== undefined) for (const own of inherited) add(ofMark(own.markKey), own.covariance, weight);
  }
  const sum = { ...ZERO_COVARIANCE };
  for (const { covariance, weight } of errors) addThrough(sum, weight, covariance);
  return sum;
}

interface SharedError {
  readonly covariance: LocalCovariance;
  readonly weight: Draft<Matrix3>;
}

/** The age's share of the variances of what is left of the slow error. */
function shareOf(
  left: LocalCovariance,
  held: readonly HeldParts[],
  estimates: readonly OccupationEstimate[],
): LocalCovariance {
  if (held.every(({ age }) => age === ZERO_COVARIANCE)) return ZERO_COVARIANCE;
  const along = (key: 'eeM2' | 'nnM2' | 'uuM2'): number => {
    const whole = estimates.reduce((sum, { correlated }) => sum + correlated[key], 0);
    return whole === 0 ? 0 : (left[key] * held.reduce((sum, { age }) => sum + age[key], 0)) / whole;
  };
  return { ...ZERO_COVARIANCE, eeM2: along('eeM2'), nnM2: along('nnM2'), uuM2: along('uuM2') };
}

interface JoinedOccupations {
  readonly estimates: readonly OccupationEstimate[];
  readonly weights: readonly Matrix3[];
  readonly times: CorrelationTimes;
  /** Null: not all times are stated. */
  readonly middles: readonly number[] | null;
}

const AXES = [
  ['eeM2', 'xx', 'yx', 'zx', 'correlationHorizontalS'],
  ['nnM2', 'xy', 'yy', 'zy', 'correlationHorizontalS'],
  ['uuM2', 'xz', 'yz', 'zz', 'correlationVerticalS'],
] as const;

/**
 * Adds Σᵢⱼ ρᵢⱼ vᵢvⱼᵀ over occupations in the order of time, axis by axis: v is the weight's column times √ of the variance, and what
 * came before is carried along, fading.
 */
function addSlow(
  sum: Draft<LocalCovariance>,
  { estimates, weights, times, middles }: JoinedOccupations,
  indexes: readonly number[],
  part: 'correlated' | 'baseline',
): void {
  for (const [key, first, second, third, tau] of AXES) {
    let [x, y, z] = [0, 0, 0];
    let beforeMs: number | null = null;
    for (const index of indexes) {
      const weight = weights[index] as Matrix3;
      const root = Math.sqrt(Math.max(0, (estimates[index] as OccupationEstimate)[part][key]));
      const ms = middles === null ? 0 : (middles[index] as number);
      const rho: number =
        beforeMs === null ? 0 : middles === null ? 1 : correlationAfter((ms - beforeMs) / 1000, times[tau]);
      const [e, n, u] = [root * weight[first], root * weight[second], root * weight[third]];
      const [p, q, r] = [rho * x, rho * y, rho * z];
      // This one by itself, and twice with what came before.
      sum.eeM2 += e * e + 2 * p * e;
      sum.enM2 += e * n + p * n + e * q;
      sum.euM2 += e * u + p * u + e * r;
      sum.nnM2 += n * n + 2 * q * n;
      sum.nuM2 += n * u + q * u + n * r;
      sum.uuM2 += u * u + 2 * r * u;
      [x, y, z] = [p + e, q + n, r + u];
      beforeMs = ms;
    }
  }
}

function noiseOf({ independent, correlated, baseline }: OccupationEstimate, pole: LocalCovariance): LocalCovariance {
  const { eeM2, enM2, euM2, nnM2, nuM2, uuM2 } = lessCovariance(independent, pole);
  // Slow errors are carried along their axes only; a correlation they state counts as the occupation's own.
  return {
    eeM2: eeM2 + RECORDING_VARIANCE_M2,
    enM2: enM2 + correlated.enM2 + baseline.enM2,
    euM2: euM2 + correlated.euM2 + baseline.euM2,
    nnM2: nnM2 + RECORDING_VARIANCE_M2,
    nuM2: nuM2 + correlated.nuM2 + baseline.nuM2,
    uuM2: uuM2 + RECORDING_VARIANCE_M2,
  };
}

/** Places in their order, those of one number together. */
function grouped(
  order: readonly number[],
  estimates: readonly OccupationEstimate[],
  numberOf: (estimate: OccupationEstimate) => number,
): readonly (readonly number[])[] {
  const found: (number[] | undefined)[] = [];
  const groups: number[][] = [];
  for (const index of order) {
    const number = numberOf(estimates[index] as OccupationEstimate);
    const group = found[number];
    if (group !== undefined) {
      group.push(index);
      continue;
    }
    const own = [index];
    found[number] = own;
    groups.push(own);
  }
  return groups;
}
