import { chiSquareQuantile } from '../numeric/distributions/chi-square.js';
import { eigen2 } from '../numeric/symmetric2.js';
import { CHI_SQUARE_2_95, VERTICAL_95 } from '../observation/uncertainty/confidence-factors.js';
import type { LocalCovariance } from '../../records/points/point.js';
import { COMPARISON_LEVEL } from './decision-levels.js';

/**
 * The shares of its 95 % that a movement may reach before it is called one, in plan and in height.
 *
 * Given: points compared, each in both axes. Returned: √(q₂/5.991) and √(q₁)/1.960, with q the chi-square quantiles of two and one
 * degrees of freedom at 1 − α, α = 1 − (1 − COMPARISON_LEVEL)^(1/2n), so that a comparison without movement raises an alarm in
 * COMPARISON_LEVEL, however many points it has.
 *
 * Reference: ŠIDÁK-1967 (from memory); chi-square test of a difference with known covariance, NIST-HANDBOOK 1.3.6.7.4 for the limit.
 */
export function movedShareLimits(points: number): { readonly horizontal: number; readonly vertical: number } {
  const level = -Math.expm1(Math.log1p(-COMPARISON_LEVEL) / (2 * Math.max(1, points)));
  return {
    horizontal: Math.sqrt(chiSquareQuantile(1 - level, 2) / CHI_SQUARE_2_95),
    vertical: Math.sqrt(chiSquareQuantile(1 - level, 1)) / VERTICAL_95,
  };
}

/** A movement by the 95 % figures that one point itself has: semi-major axis of its ellipse, half-interval in height. Lengths in metres. */
export function shareOfOwn95(
  horizontalM: number,
  upM: number | null,
  own: LocalCovariance,
): { readonly horizontal: number | null; readonly vertical: number | null } {
  const major = Math.sqrt(CHI_SQUARE_2_95 * Math.max(0, eigen2({ xx: own.eeM2, xy: own.enM2, yy: own.nnM2 }).larger));
  const half = VERTICAL_95 * Math.sqrt(Math.max(0, own.uuM2));
  return {
    horizontal: major > 0 ? horizontalM / major : null,
    vertical: upM === null || half === 0 ? null : Math.abs(upM) / half,
  };
}
