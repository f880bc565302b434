import { placePredictionM2 } from '../../../core/adjustment/fit-similarity.js';
import { transformToSite } from '../../../core/adjustment/site/site-transform.js';
import type { SiteTransform } from '../../../core/adjustment/site/site-transform.js';
import { eigen2 } from '../../../core/numeric/symmetric2.js';
import type { Symmetric2 } from '../../../core/numeric/symmetric2.js';
import { exactCircleFactor95 } from '../../../core/observation/uncertainty/circle-factor.js';
import type { FittedSite } from '../fit-site.js';
import type { ControlPair } from './pair-control.js';

/** Predicted minus control in plan, metres along the axes of the site, with its covariance; that is null where no sigma is stated. */
export interface PlanDifference {
  readonly eastM: number;
  readonly northM: number;
  readonly covarianceM2: Symmetric2 | null;
}

/** The difference of a point that was kept out: measurement, control and prediction all have their part in its covariance. Null: no place of its control is known. */
export function planDifference(
  pair: ControlPair,
  fitted: FittedSite,
  { horizontal }: SiteTransform,
): PlanDifference | null {
  if (pair.target === null) return null;
  const { scale, rotationRad } = horizontal;
  const predicted = transformToSite(horizontal, pair.source);
  const eastM = predicted.eastM - pair.target.eastM;
  const northM = predicted.northM - pair.target.northM;
  if (!fitted.sigmasAreStated) return { eastM, northM, covarianceM2: null };
  const s = pair.sourceCovariance;
  const t = pair.targetCovariance;
  const [c, q] = [scale * Math.cos(rotationRad), scale * Math.sin(rotationRad)];
  const fit = placePredictionM2(fitted.horizontal, pair.source, pair.shared?.id ?? null);
  const scaled = fitted.horizontalFactor.applied;
  return {
    eastM,
    northM,
    covarianceM2: {
      xx: c * c * s.xx - 2 * c * q * s.xy + q * q * s.yy + t.xx + scaled * fit.xx,
      yy: q * q * s.xx + 2 * c * q * s.xy + c * c * s.yy + t.yy + scaled * fit.yy,
      xy: c * q * (s.xx - s.yy) + (c * c - q * q) * s.xy + t.xy + scaled * fit.xy,
    },
  };
}

/** Radius of the circle that holds a difference in plan with 95 %; null where its covariance is not known. */
export function circleOfDifference(covarianceM2: Symmetric2 | null): number | null {
  if (covarianceM2 === null) return null;
  const { larger, smaller } = eigen2(covarianceM2);
  if (!(larger > 0)) return null;
  return exactCircleFactor95(Math.sqrt(Math.max(0, smaller) / larger)) * Math.sqrt(larger);
}
