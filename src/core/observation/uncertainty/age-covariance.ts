import type { LocalCovariance } from '../../../records/points/point.js';
import { ZERO_COVARIANCE, diagonalCovariance } from './local-covariance.js';

/** The oldest corrections that the assumed rate was held against, seconds. */
export const AGE_LIMIT_S = 40;

/**
 * What the age of the corrections adds to one row, m²: (rate · age)² on every axis.
 *
 * Given: age, seconds, null: not stated, and nothing is added; rate, metres a second.
 *
 * Reference: docs/methods/uncertainty.md, "Age of the corrections".
 */
export function ageCovariance(ageS: number | null, rateMPerS: number): LocalCovariance {
  if (ageS === null || ageS === 0 || rateMPerS === 0) return ZERO_COVARIANCE;
  const variance = ageS * rateMPerS * (ageS * rateMPerS);
  return diagonalCovariance(variance, variance, variance);
}

/** Ages and weights of the epochs of a stand, in one order; a weight of 0: the epoch was screened out. */
export interface AgedEpochs {
  /** Of an epoch, by its place among the weights, seconds; null: not stated. */
  readonly ageS: (index: number) => number | null;
  readonly weightsEast: ArrayLike<number>;
  readonly weightsNorth: ArrayLike<number>;
  readonly weightsUp: ArrayLike<number>;
}

/**
 * What the age of the corrections adds to the mean of a stand, m².
 *
 * The rate of the satellites' clocks and of the ionosphere hardly changes within minutes, so that the errors of a stand's epochs
 * are one rate times each age: the error of the mean is that rate times the mean age, and averaging does not reduce it.
 *
 * Given: the epochs; rate, metres a second. Epochs without an age are taken to be as old as the others; where none states one,
 * nothing is added.
 */
export function ageCovarianceOfMean(epochs: AgedEpochs, rateMPerS: number): LocalCovariance {
  if (rateMPerS === 0) return ZERO_COVARIANCE;
  const east = meanAgeS(epochs.ageS, epochs.weightsEast) * rateMPerS;
  const north = meanAgeS(epochs.ageS, epochs.weightsNorth) * rateMPerS;
  const up = meanAgeS(epochs.ageS, epochs.weightsUp) * rateMPerS;
  if (east === 0 && north === 0 && up === 0) return ZERO_COVARIANCE;
  return diagonalCovariance(east * east, north * north, up * up);
}

function meanAgeS(ageS: AgedEpochs['ageS'], weights: ArrayLike<number>): number {
  let sum = 0;
  let weighted = 0;
  for (let i = 0; i < weights.length; i += 1) {
    const own = ageS(i);
    if (own === null) continue;
    const weight = weights[i] as number;
    sum += weight;
    weighted += weight * own;
  }
  return sum > 0 ? weighted / sum : 0;
}
