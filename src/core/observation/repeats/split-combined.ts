import type { LocalCovariance } from '../../../records/points/point.js';
import type { UncertaintyParts } from '../../../records/points/reduced-point.js';
import { congruence3 } from '../../numeric/symmetric3.js';
import type { Matrix3 } from '../../numeric/symmetric3.js';
import { lessCovariance, sumCovariance, ZERO_COVARIANCE } from '../uncertainty/local-covariance.js';
import { correlationAfter, isTimed, middleMs, RECORDING_VARIANCE_M2, sharedErrors } from './occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from './occupation-estimate.js';

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
  const at = (index: number): OccupationEstimate => estimates[index] as OccupationEstimate;
  const order = estimates.map((_, index) => index);
  if (timed) order.sort((a, b) => middleMs(at(a)) - middleMs(at(b)) || a - b);
  const slow = (indexes: readonly number[], of: (estimate: OccupationEstimate) => LocalCovariance): LocalCovariance =>
    slowPart({ estimates, weights, times, timed }, indexes, of);
  const heldBy = (index: number): HeldParts => held[index] as HeldParts;
  const poleOf = (index: number): LocalCovariance => heldBy(index).pole;
  const own = (of: (index: number) => LocalCovariance): LocalCovariance =>
    total(weights.map((weight, index) => through(weight, of(index))));
  const marks = grouped(order, (index) => JSON.stringify(at(index).markKey));
  const setups = grouped(order, (index) => JSON.stringify([at(index).markKey, at(index).setupKey]));
  // One matrix for one mark and one set-up, as in the joining: that of the first in time.
  const shared = (groups: readonly (readonly number[])[], of: (index: number) => LocalCovariance): LocalCovariance =>
    total(
      groups.map((group) =>
        through(
          group.reduce((sum, index) => sumOf(sum, weights[index] as Matrix3), NO_WEIGHT),
          of(group[0] as number),
        ),
      ),
    );
  const constant = slow(order, ({ correlated }) => correlated);
  const age = shareOf(
    constant,
    held.map((parts) => parts.age),
    estimates,
  );
  const bend = shared(setups, (index) => heldBy(index).bend);
  return {
    noise: own((index) => noiseOf(at(index), poleOf(index))),
    correlated: lessCovariance(constant, age),
    baseline: total(marks.map((group) => slow(group, ({ baseline }) => baseline))),
    age,
    pole: own(poleOf),
    base: lessCovariance(
      sharedPart(
        order.map(at),
        order.map((index) => weights[index] as Matrix3),
      ),
      bend,
    ),
    bend,
  };
}

/** What is left of the errors of marks and set-ups, each with the weight of all occupations that have it; the first's covariance counts. */
function sharedPart(estimates: readonly OccupationEstimate[], weights: readonly Matrix3[]): LocalCovariance {
  const errors = new Map<string, { readonly covariance: LocalCovariance; readonly weight: Matrix3 }>();
  for (const [index, estimate] of estimates.entries())
    for (const [key, covariance] of sharedErrors(estimate)) {
      const before = errors.get(key);
      errors.set(key, {
        covariance: before?.covariance ?? covariance,
        weight: sumOf(before?.weight ?? NO_WEIGHT, weights[index] as Matrix3),
      });
    }
  return total([...errors.values()].map(({ covariance, weight }) => through(weight, covariance)));
}

/** The age's share of the variances of what is left of the slow error. */
function shareOf(
  left: LocalCovariance,
  ages: readonly LocalCovariance[],
  estimates: readonly OccupationEstimate[],
): LocalCovariance {
  if (ages.every((age) => age === ZERO_COVARIANCE)) return ZERO_COVARIANCE;
  const along = (key: 'eeM2' | 'nnM2' | 'uuM2'): number => {
    const whole = estimates.reduce((sum, { correlated }) => sum + correlated[key], 0);
    return whole === 0 ? 0 : (left[key] * ages.reduce((sum, age) => sum + age[key], 0)) / whole;
  };
  return { ...ZERO_COVARIANCE, eeM2: along('eeM2'), nnM2: along('nnM2'), uuM2: along('uuM2') };
}

const NO_WEIGHT: Matrix3 = { xx: 0, xy: 0, xz: 0, yx: 0, yy: 0, yz: 0, zx: 0, zy: 0, zz: 0 };

interface JoinedOccupations {
  readonly estimates: readonly OccupationEstimate[];
  readonly weights: readonly Matrix3[];
  readonly times: CorrelationTimes;
  readonly timed: boolean;
}

/**
 * Σᵢⱼ ρᵢⱼ vᵢvⱼᵀ over occupations in the order of time, axis by axis: v is the weight's column times √ of the variance, and what
 * came before is carried along, fading.
 */
function slowPart(
  { estimates, weights, times, timed }: JoinedOccupations,
  indexes: readonly number[],
  of: (estimate: OccupationEstimate) => LocalCovariance,
): LocalCovariance {
  let sum = ZERO_COVARIANCE;
  const { correlationHorizontalS, correlationVerticalS } = times;
  const axes = [
    ['eeM2', correlationHorizontalS, ({ xx, yx, zx }: Matrix3) => [xx, yx, zx]],
    ['nnM2', correlationHorizontalS, ({ xy, yy, zy }: Matrix3) => [xy, yy, zy]],
    ['uuM2', correlationVerticalS, ({ xz, yz, zz }: Matrix3) => [xz, yz, zz]],
  ] as const;
  for (const [key, tauS, column] of axes) {
    let [x, y, z] = [0, 0, 0];
    let beforeMs: number | null = null;
    for (const index of indexes) {
      const estimate = estimates[index] as OccupationEstimate;
      const root = Math.sqrt(Math.max(0, of(estimate)[key]));
      const [a = 0, b = 0, c = 0] = column(weights[index] as Matrix3);
      const ms = timed ? middleMs(estimate) : 0;
      const rho: number = beforeMs === null ? 0 : timed ? correlationAfter((ms - beforeMs) / 1000, tauS) : 1;
      const [e, n, u] = [root * a, root * b, root * c];
      const [p, q, r] = [rho * x, rho * y, rho * z];
      // This one by itself, and twice with what came before.
      sum = sumCovariance(sum, {
        eeM2: e * e + 2 * p * e,
        enM2: e * n + p * n + e * q,
        euM2: e * u + p * u + e * r,
        nnM2: n * n + 2 * q * n,
        nuM2: n * u + q * u + n * r,
        uuM2: u * u + 2 * r * u,
      });
      [x, y, z] = [p + e, q + n, r + u];
      beforeMs = ms;
    }
  }
  return sum;
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

/** Places in their order, those of one key together. */
function grouped(order: readonly number[], keyOf: (index: number) => string): readonly (readonly number[])[] {
  const groups = new Map<string, number[]>();
  for (const index of order) {
    const key = keyOf(index);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [index]);
    else group.push(index);
  }
  return [...groups.values()];
}

function total(parts: readonly LocalCovariance[]): LocalCovariance {
  return parts.reduce(sumCovariance, ZERO_COVARIANCE);
}

function through(weight: Matrix3, { eeM2, enM2, euM2, nnM2, nuM2, uuM2 }: LocalCovariance): LocalCovariance {
  const { xx, xy, xz, yy, yz, zz } = congruence3(weight, {
    xx: eeM2,
    xy: enM2,
    xz: euM2,
    yy: nnM2,
    yz: nuM2,
    zz: uuM2,
  });
  return { eeM2: xx, enM2: xy, euM2: xz, nnM2: yy, nuM2: yz, uuM2: zz };
}

function sumOf(a: Matrix3, b: Matrix3): Matrix3 {
  return {
    xx: a.xx + b.xx,
    xy: a.xy + b.xy,
    xz: a.xz + b.xz,
    yx: a.yx + b.yx,
    yy: a.yy + b.yy,
    yz: a.yz + b.yz,
    zx: a.zx + b.zx,
    zy: a.zy + b.zy,
    zz: a.zz + b.zz,
  };
}
