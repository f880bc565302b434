import { inverse2 } from '../numeric/symmetric2.js';
import type { Symmetric2 } from '../numeric/symmetric2.js';
import { entryAt } from '../../records/present.js';
import type { Adjustment, ObservationEquations } from './adjust-observations.js';

/** Below this share of its own variance a residual is the noise of arithmetic, and has no spread of its own. */
const LEAST_SHARE = 1e-10;

/**
 * The covariance of the residuals of a point in plan, weights taken as right: P⁻¹ − H with H = A N⁻¹ Aᵀ of the fitted observations.
 *
 * Given: equations of pairs of coordinates with their solution; which pair. Returned: m², along the axes of the observations; null where
 * nothing checks the pair.
 * Reference: BAARDA-1968 (Q_vv = P⁻¹ − A N⁻¹ Aᵀ).
 */
export function residualCovariance(
  { weights }: Pick<ObservationEquations, 'weights'>,
  { fittedCofactor }: Pick<Adjustment, 'fittedCofactor'>,
  pair: number,
): Symmetric2 | null {
  const at = 4 * pair;
  const of = (values: Float64Array): Symmetric2 => ({
    xx: entryAt(values, at),
    xy: entryAt(values, at + 1),
    yy: entryAt(values, at + 3),
  });
  const fitted = of(fittedCofactor);
  const own = inverse2(of(weights));
  if (own === null) return null;
  const spread = { xx: own.xx - fitted.xx, xy: own.xy - fitted.xy, yy: own.yy - fitted.yy };
  return spread.xx > LEAST_SHARE * own.xx && spread.yy > LEAST_SHARE * own.yy ? spread : null;
}
