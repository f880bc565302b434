import { ZERO_COVARIANCE } from '../../../core/observation/uncertainty/local-covariance.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { ReducedPoint } from '../../../records/points/reduced-point.js';

// The parts of a reduced point as numbers one after another, from a place on: the baseline, the position, the uncertainty and the summary, the first of
// each NaN where it is not there. A number is never NaN: that stands for null.

/** Where each part begins, and how many numbers all have. */
const [BASELINE, POSITION, UNCERTAINTY, SUMMARY, END] = [0, 3, 14, 63, 68] as const;
const COVARIANCE = 6;

export const PART_NUMBERS: number = END;

/** A number, or null. */
export function putOrNull(value: number | null, into: Float64Array, at: number): void {
  into[at] = value === null ? Number.NaN : value;
}

/** Inverse of `putOrNull`. */
export function orNull(value: number): number | null {
  return Number.isNaN(value) ? null : value;
}

export function putBaseline(baseline: ReducedPoint['baseline'], into: Float64Array, from: number): void {
  const at = from + BASELINE;
  into[at] = baseline === null ? Number.NaN : baseline.distanceM;
  if (baseline === null) return;
  putOrNull(baseline.azimuthDeg, into, at + 1);
  into[at + 2] = baseline.heightDifferenceM;
}

export function baselineFrom(numbers: Float64Array, from: number): ReducedPoint['baseline'] {
  const at = from + BASELINE;
  const distanceM = numbers[at] as number;
  return Number.isNaN(distanceM)
    ? null
    : { distanceM, azimuthDeg: orNull(numbers[at + 1] as number), heightDifferenceM: numbers[at + 2] as number };
}

export function putPosition(position: ReducedPoint['position'], into: Float64Array, from: number): void {
  const at = from + POSITION;
  into[at] = position === null ? Number.NaN : position.geodetic.latitudeDeg;
  if (position === null) return;
  into[at + 1] = position.geodetic.longitudeDeg;
  into[at + 2] = position.geodetic.ellipsoidalHeightM;
  putOrNull(position.geoidHeightM, into, at + 3);
  putOrNull(position.orthometricHeightM, into, at + 4);
  putOrNull(position.gridFirst, into, at + 5);
  putOrNull(position.gridSecond, into, at + 6);
  putOrNull(position.pointScaleFactor, into, at + 7);
  putOrNull(position.elevationFactor, into, at + 8);
  putOrNull(position.combinedFactor, into, at + 9);
  putOrNull(position.convergenceDeg, into, at + 10);
}

export function positionFrom(numbers: Float64Array, from: number): ReducedPoint['position'] {
  const at = from + POSITION;
  const latitudeDeg = numbers[at] as number;
  if (Number.isNaN(latitudeDeg)) return null;
  return {
    geodetic: {
      latitudeDeg,
      longitudeDeg: numbers[at + 1] as number,
      ellipsoidalHeightM: numbers[at + 2] as number,
    },
    geoidHeightM: orNull(numbers[at + 3] as number),
    orthometricHeightM: orNull(numbers[at + 4] as number),
    gridFirst: orNull(numbers[at + 5] as number),
    gridSecond: orNull(numbers[at + 6] as number),
    pointScaleFactor: orNull(numbers[at + 7] as number),
    elevationFactor: orNull(numbers[at + 8] as number),
    combinedFactor: orNull(numbers[at + 9] as number),
    convergenceDeg: orNull(numbers[at + 10] as number),
  };
}

export function putUncertainty(uncertainty: ReducedPoint['uncertainty'], into: Float64Array, from: number): void {
  const at = from + UNCERTAINTY;
  if (uncertainty === null) {
    into[at] = Number.NaN;
    return;
  }
  putCovariance(uncertainty.noise, into, at);
  putCovariance(uncertainty.correlated, into, at + COVARIANCE);
  putCovariance(uncertainty.baseline, into, at + 2 * COVARIANCE);
  putCovariance(uncertainty.age, into, at + 3 * COVARIANCE);
  putCovariance(uncertainty.pole, into, at + 4 * COVARIANCE);
  putCovariance(uncertainty.base, into, at + 5 * COVARIANCE);
  putCovariance(uncertainty.bend, into, at + 6 * COVARIANCE);
  putCovariance(uncertainty.total, into, at + 7 * COVARIANCE);
  putOrNull(uncertainty.geoidVarianceM2, into, at + 8 * COVARIANCE);
}

export function uncertaintyFrom(numbers: Float64Array, from: number): ReducedPoint['uncertainty'] {
  const at = from + UNCERTAINTY;
  if (Number.isNaN(numbers[at])) return null;
  return {
    noise: covarianceFrom(numbers, at),
    correlated: covarianceFrom(numbers, at + COVARIANCE),
    baseline: covarianceFrom(numbers, at + 2 * COVARIANCE),
    age: covarianceFrom(numbers, at + 3 * COVARIANCE),
    pole: covarianceFrom(numbers, at + 4 * COVARIANCE),
    base: covarianceFrom(numbers, at + 5 * COVARIANCE),
    bend: covarianceFrom(numbers, at + 6 * COVARIANCE),
    total: covarianceFrom(numbers, at + 7 * COVARIANCE),
    geoidVarianceM2: orNull(numbers[at + 8 * COVARIANCE] as number),
  };
}

export function putSummary(summary: ReducedPoint['summary'], into: Float64Array, from: number): void {
  const at = from + SUMMARY;
  into[at] = summary === null ? Number.NaN : summary.ellipseMajor95M;
  if (summary === null) return;
  into[at + 1] = summary.ellipseMinor95M;
  into[at + 2] = summary.ellipseAzimuthDeg;
  into[at + 3] = summary.circle95M;
  into[at + 4] = summary.vertical95M;
}

export function summaryFrom(numbers: Float64Array, from: number): ReducedPoint['summary'] {
  const at = from + SUMMARY;
  const ellipseMajor95M = numbers[at] as number;
  return Number.isNaN(ellipseMajor95M)
    ? null
    : {
        ellipseMajor95M,
        ellipseMinor95M: numbers[at + 1] as number,
        ellipseAzimuthDeg: numbers[at + 2] as number,
        circle95M: numbers[at + 3] as number,
        vertical95M: numbers[at + 4] as number,
      };
}

function putCovariance({ eeM2, enM2, euM2, nnM2, nuM2, uuM2 }: LocalCovariance, into: Float64Array, at: number): void {
  into[at] = eeM2;
  into[at + 1] = enM2;
  into[at + 2] = euM2;
  into[at + 3] = nnM2;
  into[at + 4] = nuM2;
  into[at + 5] = uuM2;
}

/** One with nothing in it is `ZERO_COVARIANCE`, by which the joining of occupations knows an age that is not stated. */
function covarianceFrom(numbers: Float64Array, at: number): LocalCovariance {
  const eeM2 = numbers[at] as number;
  const enM2 = numbers[at + 1] as number;
  const euM2 = numbers[at + 2] as number;
  const nnM2 = numbers[at + 3] as number;
  const nuM2 = numbers[at + 4] as number;
  const uuM2 = numbers[at + 5] as number;
  const isNothing =
    Object.is(eeM2, 0) &&
    Object.is(nnM2, 0) &&
    Object.is(uuM2, 0) &&
    Object.is(enM2, 0) &&
    Object.is(euM2, 0) &&
    Object.is(nuM2, 0);
  return isNothing ? ZERO_COVARIANCE : { eeM2, enM2, euM2, nnM2, nuM2, uuM2 };
}
