import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { ControlPair } from './pair-control.js';

/** Whether the point or its control states a sigma along both axes in plan. */
export function hasVariance(pair: ControlPair): boolean {
  const { sourceCovariance: s, targetCovariance: t } = pair;
  return s.xx + t.xx > 0 && s.yy + t.yy > 0;
}

/** True where every point states a sigma, false with a warning where none does; an error where only some do. */
export function statedSigmas(
  pairs: readonly ControlPair[],
  has: (pair: ControlPair) => boolean,
  what: string,
): Outcome<boolean> {
  const without = pairs.filter((pair) => !has(pair));
  if (without.length === 0) return success(true);
  if (without.length < pairs.length) {
    return failure(
      errorProblem('value-missing', {
        message: `some control states a sigma ${what} and ${without.map((pair) => pair.control.pointId).join(', ')} has none on either side`,
        hint: 'state a sigma for every point, in the points or in the control file, or for none',
      }),
    );
  }
  return success(false, [
    warningProblem('config-unstated', {
      message: `no sigma is stated ${what}: all control weighs the same, and uncertainty is only what the residuals show`,
      hint: 'give sigma_horizontal_m and sigma_vertical_m in the control file',
    }),
  ]);
}
