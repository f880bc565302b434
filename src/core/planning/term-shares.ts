import type { UncertaintyComponents } from '../observation/uncertainty/uncertainty-components.js';
import type { PredictedAxis, PredictedPrecision } from './precision-model.js';

/** Shares of one axis's variance, 0…1 each; they add up to 1, or are all 0 where nothing is uncertain. */
export interface AxisShares {
  readonly constant: number;
  readonly ionosphere: number;
  readonly troposphere: number;
  readonly orbit: number;
  /** The ppm part where constant and ppm were given; with linear combination it holds the mixed term 2·a·b·d too. */
  readonly proportional: number;
  readonly noise: number;
  readonly pole: number;
  readonly base: number;
  /** 0 horizontally. */
  readonly geoid: number;
}

export interface TermShares {
  readonly horizontal: AxisShares;
  readonly vertical: AxisShares;
}

/**
 * Which term has what share of the variance.
 *
 * Given: the prediction, and the covariance parts made from it. Returned: shares of the sum of both
 * horizontal variances, and of the vertical variance with the geoid's. The part that grows with
 * distance is shared out by the squares of its terms.
 */
export function termShares(predicted: PredictedPrecision, parts: UncertaintyComponents): TermShares {
  return {
    horizontal: axisShares(predicted.horizontal, {
      constant: parts.correlated.eeM2 + parts.correlated.nnM2,
      growing: parts.baseline.eeM2 + parts.baseline.nnM2,
      noise: parts.noise.eeM2 + parts.noise.nnM2,
      pole: parts.pole.eeM2 + parts.pole.nnM2,
      base: parts.base.eeM2 + parts.base.nnM2,
      geoid: 0,
    }),
    vertical: axisShares(predicted.vertical, {
      constant: parts.correlated.uuM2,
      growing: parts.baseline.uuM2,
      noise: parts.noise.uuM2,
      pole: parts.pole.uuM2,
      base: parts.base.uuM2,
      // The sigma of the geoid is not stated: it has no share.
      geoid: parts.geoidVarianceM2 ?? 0,
    }),
  };
}

interface Variances {
  readonly constant: number;
  readonly growing: number;
  readonly noise: number;
  readonly pole: number;
  readonly base: number;
  readonly geoid: number;
}

function axisShares(axis: PredictedAxis, v: Variances): AxisShares {
  const total = v.constant + v.growing + v.noise + v.pole + v.base + v.geoid;
  const squares = axis.ionosphereM ** 2 + axis.troposphereM ** 2 + axis.orbitM ** 2 + axis.proportionalM ** 2;
  const share = (variance: number): number => (total > 0 ? variance / total : 0);
  const growing = (termM: number): number => (squares > 0 ? share((v.growing * termM * termM) / squares) : 0);
  return {
    constant: share(v.constant),
    ionosphere: growing(axis.ionosphereM),
    troposphere: growing(axis.troposphereM),
    orbit: growing(axis.orbitM),
    proportional: growing(axis.proportionalM),
    noise: share(v.noise),
    pole: share(v.pole),
    base: share(v.base),
    geoid: share(v.geoid),
  };
}
