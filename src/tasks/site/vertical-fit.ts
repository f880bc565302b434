import type { PlanePoint } from '../../core/adjustment/convex-hull.js';
import { heightPredictionM2 } from '../../core/adjustment/fit-heights.js';
import type { HeightFit } from '../../core/adjustment/fit-heights.js';
import { residualTests } from '../../core/adjustment/residual-tests.js';
import type { ResidualTest } from '../../core/adjustment/residual-tests.js';
import { surfaceVarianceM2 } from '../../core/heights/surface-at.js';
import { surfaceTests } from '../../core/heights/surface-residuals.js';
import type { SurfaceFit } from './surface/surface-fit.js';

/** How heights are fitted: by a level or inclined plane, or by trend and signal. */
export type VerticalFit = HeightFit | SurfaceFit;

/** Tests of the heights fitted, in their order. Given: the chance of a false alarm of each. */
export function heightTests(vertical: VerticalFit, level: number): readonly ResidualTest[] {
  return vertical.kind === 'plane'
    ? residualTests(vertical.equations, vertical.adjustment, level)
    : surfaceTests(vertical.surface, level);
}

/** Variance of a height predicted from a measured one, without that height's own, m²; what it shares with fitted ones cancels. */
export function heightVarianceAtM2(vertical: VerticalFit, place: PlanePoint, sharedWith: string | null): number {
  return vertical.kind === 'plane'
    ? heightPredictionM2(vertical, place, sharedWith)
    : surfaceVarianceM2(vertical.surface, place, sharedWith);
}
