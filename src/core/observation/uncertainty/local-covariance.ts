import { emptyCovariance } from '../../ellipsoid/local-frame.js';
import type { Draft } from '../../../records/draft.js';
import type { LocalCovariance } from '../../../records/points/point.js';

/** A covariance with nothing in it. */
export const ZERO_COVARIANCE: LocalCovariance = Object.freeze({
  eeM2: 0,
  enM2: 0,
  euM2: 0,
  nnM2: 0,
  nuM2: 0,
  uuM2: 0,
});

/**
 * A covariance without correlations.
 *
 * Given: variances along east, north and up, m²; a record to be filled.
 */
export function diagonalCovariance(
  eeM2: number,
  nnM2: number,
  uuM2: number,
  filled: Draft<LocalCovariance> = emptyCovariance(),
): LocalCovariance {
  filled.eeM2 = eeM2;
  filled.enM2 = 0;
  filled.euM2 = 0;
  filled.nnM2 = nnM2;
  filled.nuM2 = 0;
  filled.uuM2 = uuM2;
  return filled;
}

/**
 * The covariance of a position with stated sigmas.
 *
 * Given: one sigma along east, north and up, metres; the correlation coefficient of east and north
 * (−1 to 1), null meaning not stated, taken as none.
 */
export function covarianceFromSigmas(
  sigmaEastM: number,
  sigmaNorthM: number,
  sigmaUpM: number,
  correlationEn: number | null,
): LocalCovariance {
  return {
    eeM2: sigmaEastM * sigmaEastM,
    // A correlation that is not stated is taken for none.
    enM2: (correlationEn ?? 0) * sigmaEastM * sigmaNorthM,
    euM2: 0,
    nnM2: sigmaNorthM * sigmaNorthM,
    nuM2: 0,
    uuM2: sigmaUpM * sigmaUpM,
  };
}

/** The covariance of a sum of two independent vectors. */
export function sumCovariance(a: LocalCovariance, b: LocalCovariance): LocalCovariance {
  return {
    eeM2: a.eeM2 + b.eeM2,
    enM2: a.enM2 + b.enM2,
    euM2: a.euM2 + b.euM2,
    nnM2: a.nnM2 + b.nnM2,
    nuM2: a.nuM2 + b.nuM2,
    uuM2: a.uuM2 + b.uuM2,
  };
}

/** What is left of a covariance once a part of it is taken out. */
export function lessCovariance(whole: LocalCovariance, part: LocalCovariance): LocalCovariance {
  return {
    eeM2: whole.eeM2 - part.eeM2,
    enM2: whole.enM2 - part.enM2,
    euM2: whole.euM2 - part.euM2,
    nnM2: whole.nnM2 - part.nnM2,
    nuM2: whole.nuM2 - part.nuM2,
    uuM2: whole.uuM2 - part.uuM2,
  };
}
