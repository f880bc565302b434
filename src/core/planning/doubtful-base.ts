import type { Geodesic } from '../ellipsoid/geodesic.js';
import { gaussRadiusM } from '../ellipsoid/radii.js';
import { irreducibleResidualM, shortcutErrorM } from '../observation/base-correction.js';
import type { PlanPlace } from './plan-point.js';

/** What an error in the base coordinate does to one point. */
export interface DoubtfulBaseEffect {
  readonly baselineM: number;
  /** The point is wrong by this much until the base is corrected: the same vector at every point. */
  readonly translationM: number;
  /** Largest extra error if the correction is added in grid, geodetic or local components instead of geocentric ones. */
  readonly shortcutErrorM: number;
  /** Bound of what no later correction removes. */
  readonly residualM: number;
  /** `reobserve`: the residual takes more than a third of the tolerance; `warn`: it exceeds 2 mm. */
  readonly judgement: 'harmless' | 'warn' | 'reobserve';
}

/** A residual above this is said aloud, metres. Common practice, no published source. */
const WARN_ABOVE_M = 0.002;

/**
 * The effect of a base coordinate wrong by `errorM` on every point.
 *
 * Given: geodesic calculator; base and points, degrees; the error of the base, metres, ≥ 0; the 95 %
 * horizontal tolerance of each point, metres, or null. Returned: one effect a point.
 * Reference: see `shortcutErrorM` and `irreducibleResidualM`, the functions `reduce-points` uses too.
 */
export function doubtfulBase(
  geodesic: Geodesic,
  base: PlanPlace,
  points: readonly (PlanPlace & { readonly toleranceHorizontalM: number | null })[],
  errorM: number,
): readonly DoubtfulBaseEffect[] {
  const radiusM = gaussRadiusM(geodesic.ellipsoid, base.latitudeDeg);
  return points.map((point) => {
    const baselineM = geodesic.distanceM(base.latitudeDeg, base.longitudeDeg, point.latitudeDeg, point.longitudeDeg);
    const residualM = irreducibleResidualM(errorM, baselineM);
    const tooLarge = point.toleranceHorizontalM !== null && residualM > point.toleranceHorizontalM / 3;
    return {
      baselineM,
      translationM: errorM,
      shortcutErrorM: shortcutErrorM(errorM, baselineM, base.latitudeDeg, radiusM),
      residualM,
      judgement: tooLarge ? 'reobserve' : residualM > WARN_ABOVE_M ? 'warn' : 'harmless',
    };
  });
}
