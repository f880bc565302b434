import { diagonalCovariance, ZERO_COVARIANCE } from '../observation/uncertainty/local-covariance.js';
import type { OccupationEstimate } from '../observation/repeats/occupation-estimate.js';
import type { PrecisionModel } from '../planning/precision-model.js';
import type { LocalCovariance } from '../../records/points/point.js';

/** Smallest part of what the base leaves that is taken as belonging to one occupation alone. An assumption. */
const LEAST_INDEPENDENT_SHARE = 0.1;

/** Variance of the mean of a slow error over a time, in shares of its own: 2 (x − 1 + e⁻ˣ) / x² with x = T/τ (textbook). */
function meanShare(durationS: number, tauS: number): number {
  if (durationS <= 0 || tauS <= 0) return 1;
  const x = durationS / tauS;
  return x < 1e-3 ? 1 - x / 3 : (2 * (x - 1 + Math.exp(-x))) / (x * x);
}

/** One sigma per horizontal axis and in height, metres. */
interface BaseSigmas {
  readonly horizontalM: number;
  readonly verticalM: number;
}

/** Independent, constant and growing slow error, mark, set-up, m². */
type Shares = readonly [number, number, number, number, number];

/**
 * A total covariance, as a points file states it, split into the parts a comparison of occupations needs.
 *
 * The base's parts are the stated sigmas of its mark and set-up; slow parts are the planning model's at the baseline, the constant one and
 * the one that grows, scaled down together where they exceed nine tenths of what is left; the rest is independent.
 *
 * Given: total covariance, m², null: nothing is known and every part is zero; baseline and height difference, metres;
 * model; sigmas of the base's mark and of its set-up, metres, or that
 * everything the slow parts leave is the base's; time from first to last epoch, seconds. Returned: parts that sum to the total.
 *
 * Note: reduce-points splits its own, exactly; this is for files that only state the total.
 */
export function splitCovariance(
  total: LocalCovariance | null,
  vector: { readonly distanceM: number | null; readonly heightDifferenceM: number | null },
  precision: PrecisionModel,
  base: { readonly mark: BaseSigmas; readonly setup: BaseSigmas } | 'what-is-left',
  durationS = 0,
): Pick<OccupationEstimate, 'independent' | 'correlated' | 'baseline' | 'mark' | 'setup'> {
  if (total === null)
    return {
      independent: ZERO_COVARIANCE,
      correlated: ZERO_COVARIANCE,
      baseline: ZERO_COVARIANCE,
      mark: ZERO_COVARIANCE,
      setup: ZERO_COVARIANCE,
    };
  // No baseline is known: the part of the model that does not grow with it.
  const predicted = precision.at(vector.distanceM ?? 0, vector.heightDifferenceM);
  const axis = (variance: number, along: 'horizontal' | 'vertical'): Shares => {
    const { totalM, constantM } = predicted[along];
    const averaged = meanShare(
      durationS,
      along === 'horizontal' ? predicted.correlationHorizontalS : predicted.correlationVerticalS,
    );
    const constantM2 = averaged * constantM * constantM;
    const growingM2 = averaged * Math.max(0, totalM * totalM - constantM * constantM);
    const slow = constantM2 + growingM2;
    const setupM2 = base === 'what-is-left' ? 0 : Math.min(base.setup[`${along}M`] ** 2, variance);
    const markM2 =
      base === 'what-is-left'
        ? Math.max(0, variance - slow)
        : Math.min(base.mark[`${along}M`] ** 2, variance - setupM2);
    const left = variance - setupM2 - markM2;
    const scale = slow === 0 ? 0 : Math.min(1, ((1 - LEAST_INDEPENDENT_SHARE) * left) / slow);
    return [left - scale * slow, scale * constantM2, scale * growingM2, markM2, setupM2];
  };
  const east = axis(total.eeM2, 'horizontal');
  const north = axis(total.nnM2, 'horizontal');
  const up = axis(total.uuM2, 'vertical');
  const part = (index: 0 | 1 | 2 | 3 | 4): LocalCovariance => diagonalCovariance(east[index], north[index], up[index]);
  return { independent: part(0), correlated: part(1), baseline: part(2), mark: part(3), setup: part(4) };
}
