import type { PredictedPrecision } from '../../planning/precision-model.js';
import type { Draft } from '../../../records/draft.js';
import { emptyCovariance } from '../../ellipsoid/local-frame.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import { varianceFactor, varianceInflation } from '../averaging/correlated-mean.js';
import { ZERO_COVARIANCE, diagonalCovariance } from './local-covariance.js';

/** The epochs behind a mean: their times and the weights each axis gave them. */
export interface UsedEpochs {
  /** Seconds from any origin, never falling; one for each epoch, screened ones included. */
  readonly timesS: ArrayLike<number>;
  /** 0 where an epoch was screened out. */
  readonly weightsEast: ArrayLike<number>;
  readonly weightsNorth: ArrayLike<number>;
  readonly weightsUp: ArrayLike<number>;
  /** `fastNoise` per axis, one sigma; null with fewer than 3 used epochs. */
  readonly noiseEastM: number | null;
  readonly noiseNorthM: number | null;
  readonly noiseUpM: number | null;
}

export interface UncertaintyInput {
  /** Null: one row, which is an epoch or a mean already. */
  readonly epochs: UsedEpochs | null;
  /** How many epochs the single row is the mean of; looked at only where `epochs` is null. */
  readonly epochCount: number;
  /** Reported covariance of one row (`covarianceFromSigmas`); null: not reported. */
  readonly reported: LocalCovariance | null;
  readonly prediction: PredictedPrecision;
  /** `poleCovariance`. */
  readonly pole: LocalCovariance;
  /** `baseCovariance`. */
  readonly base: LocalCovariance;
  /** `bendCovariance`; absent: the base was not wrong. */
  readonly bend?: LocalCovariance;
  /** `ageCovariance` or `ageCovarianceOfMean`; absent: ages are not known. */
  readonly age?: LocalCovariance;
  /** One sigma of the geoid height, metres; null: unknown, or no orthometric height. */
  readonly geoidSigmaM: number | null;
}

/** The parts of a point's covariance, m², and their sum. */
export interface UncertaintyComponents {
  /** Fast noise, reduced by averaging. */
  readonly noise: LocalCovariance;
  /** Slow error that does not grow with the baseline, reduced as far as its correlation allows. */
  readonly correlated: LocalCovariance;
  /** Slow error that grows with the baseline, reduced likewise. */
  readonly baseline: LocalCovariance;
  /** Age of the corrections; not reduced within a stand. */
  readonly age: LocalCovariance;
  readonly pole: LocalCovariance;
  readonly base: LocalCovariance;
  /** Bend of the vector by a wrong base coordinate; common to all points of a set-up at one place. */
  readonly bend: LocalCovariance;
  /** Sum of the above: covariance of latitude, longitude and ellipsoidal height. */
  readonly total: LocalCovariance;
  /** To be added to the height variance of an orthometric height. */
  readonly geoidVarianceM2: number | null;
  /** Independent epochs that would leave the slow horizontal error as large; 1 for one epoch. */
  readonly effectiveEpochs: number;
}

/** An uncertainty to be filled: three of its parts are made in it, the others are laid into it as they were given. */
export interface UncertaintyDraft extends Draft<UncertaintyComponents> {
  readonly correlated: Draft<LocalCovariance>;
  readonly baseline: Draft<LocalCovariance>;
  readonly total: Draft<LocalCovariance>;
}

/** An uncertainty to be filled. */
export function emptyUncertainty(): UncertaintyDraft {
  return {
    noise: ZERO_COVARIANCE,
    correlated: emptyCovariance(),
    baseline: emptyCovariance(),
    age: ZERO_COVARIANCE,
    pole: ZERO_COVARIANCE,
    base: ZERO_COVARIANCE,
    bend: ZERO_COVARIANCE,
    total: emptyCovariance(),
    geoidVarianceM2: 0.5,
    effectiveEpochs: 0.5,
  };
}

/** Σw²/(Σw)²: what averaging leaves of independent noise. */
function whiteFactor(weights: ArrayLike<number>): number {
  let sum = 0;
  let squares = 0;
  for (let i = 0; i < weights.length; i += 1) {
    const weight = weights[i] as number;
    sum += weight;
    squares += weight * weight;
  }
  return squares / (sum * sum);
}

function noiseOfEpochs(epochs: UsedEpochs, reported: LocalCovariance | null): LocalCovariance {
  const east = whiteFactor(epochs.weightsEast);
  const north = whiteFactor(epochs.weightsNorth);
  const up = whiteFactor(epochs.weightsUp);
  const { noiseEastM, noiseNorthM, noiseUpM } = epochs;
  if (noiseEastM !== null && noiseNorthM !== null && noiseUpM !== null) {
    return diagonalCovariance(
      noiseEastM * noiseEastM * east,
      noiseNorthM * noiseNorthM * north,
      noiseUpM * noiseUpM * up,
    );
  }
  if (reported === null) return ZERO_COVARIANCE;
  return {
    eeM2: reported.eeM2 * east,
    enM2: reported.enM2 * Math.sqrt(east * north),
    euM2: reported.euM2 * Math.sqrt(east * up),
    nnM2: reported.nnM2 * north,
    nuM2: reported.nuM2 * Math.sqrt(north * up),
    uuM2: reported.uuM2 * up,
  };
}

/**
 * Uncertainty of an averaged point, part by part.
 *
 * Noise comes from the scatter of the epochs where there are at least three, otherwise from the
 * reported sigmas, otherwise it is nothing. Slow errors come from the planning model, never from the
 * scatter, and averaging reduces them only by the exact variance factor over the epochs' own times
 * and weights. A row that is a mean already is reckoned as equally spaced by one second. Age,
 * pole, base and bend are not reduced at all.
 *
 * Given and returned: see the two interfaces; m² in the local frame at the point. `parts`: a record to be filled.
 *
 * Notes: reported sigmas hold part of the slow error too, so a single epoch counts it twice; that errs
 * on the safe side.
 *
 * Reference: docs/methods/uncertainty.md, "Two kinds of error".
 *
 * @example
 * // One epoch 10 km from its base under quiet conditions, pole 4 mm: 18.494667 mm, computed with NumPy and SciPy.
 * const own = { horizontal: null, vertical: null, correlationHorizontalS: null, correlationVerticalS: null };
 * const prediction = createPrecisionModel({ conditions: 'quiet', combine: 'rss', ...own }).at(10e3, 0);
 * const base = { eeM2: 0, enM2: 0, euM2: 0, nnM2: 0, nuM2: 0, uuM2: 0 };
 * const pole = { ...base, eeM2: 16e-6, nnM2: 16e-6, uuM2: 4e-6 };
 * const epoch = { epochs: null, epochCount: 1, reported: null, geoidSigmaM: null };
 * const { total } = occupationUncertainty({ ...epoch, prediction, pole, base });
 * positionalUncertainty(total, null).circle95M * 1000; // 18.4947
 */
export function occupationUncertainty(
  input: UncertaintyInput,
  parts: UncertaintyDraft = emptyUncertainty(),
): UncertaintyComponents {
  const { epochs, prediction, pole, base, reported, bend = ZERO_COVARIANCE, age = ZERO_COVARIANCE } = input;
  const { horizontal, vertical, correlationHorizontalS, correlationVerticalS } = prediction;
  let factorEast = 1;
  let factorNorth = 1;
  let factorUp = 1;
  let noise = reported ?? ZERO_COVARIANCE;
  if (epochs !== null) {
    factorEast = varianceFactor(epochs.timesS, epochs.weightsEast, correlationHorizontalS);
    factorNorth = varianceFactor(epochs.timesS, epochs.weightsNorth, correlationHorizontalS);
    factorUp = varianceFactor(epochs.timesS, epochs.weightsUp, correlationVerticalS);
    noise = noiseOfEpochs(epochs, reported);
  } else if (input.epochCount > 1) {
    factorEast = varianceInflation(input.epochCount, 1, correlationHorizontalS) / input.epochCount;
    factorNorth = factorEast;
    factorUp = varianceInflation(input.epochCount, 1, correlationVerticalS) / input.epochCount;
  }
  const constantH = horizontal.constantM * horizontal.constantM;
  const constantV = vertical.constantM * vertical.constantM;
  const growingH = Math.max(0, horizontal.totalM * horizontal.totalM - constantH);
  const growingV = Math.max(0, vertical.totalM * vertical.totalM - constantV);
  const { correlated, baseline, total } = parts;
  diagonalCovariance(constantH * factorEast, constantH * factorNorth, constantV * factorUp, correlated);
  diagonalCovariance(growingH * factorEast, growingH * factorNorth, growingV * factorUp, baseline);
  parts.noise = noise;
  parts.age = age;
  parts.pole = pole;
  parts.base = base;
  parts.bend = bend;
  total.eeM2 = noise.eeM2 + correlated.eeM2 + baseline.eeM2 + age.eeM2 + pole.eeM2 + base.eeM2 + bend.eeM2;
  total.enM2 = noise.enM2 + pole.enM2 + base.enM2 + bend.enM2;
  total.euM2 = noise.euM2 + pole.euM2 + base.euM2;
  total.nnM2 = noise.nnM2 + correlated.nnM2 + baseline.nnM2 + age.nnM2 + pole.nnM2 + base.nnM2 + bend.nnM2;
  total.nuM2 = noise.nuM2 + pole.nuM2 + base.nuM2;
  total.uuM2 = noise.uuM2 + correlated.uuM2 + baseline.uuM2 + age.uuM2 + pole.uuM2 + base.uuM2 + bend.uuM2;
  parts.geoidVarianceM2 = input.geoidSigmaM === null ? null : input.geoidSigmaM * input.geoidSigmaM;
  parts.effectiveEpochs = 2 / (factorEast + factorNorth);
  return parts;
}
