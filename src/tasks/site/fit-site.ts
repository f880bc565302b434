import { curvatureTest } from '../../core/adjustment/curvature-test.js';
import type { CurvatureTest } from '../../core/adjustment/curvature-test.js';
import { siteTestLevels } from '../../core/adjustment/site/site-levels.js';
import type { SiteTestLevels } from '../../core/adjustment/site/site-levels.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { SITE_CURVATURE_LEVEL } from '../../core/quality/decision-levels.js';
import type { SurfaceSettings } from './surface/surface-settings.js';
import type { VerticalFit } from './vertical-fit.js';
import { fitSimilarity } from '../../core/adjustment/fit-similarity.js';
import type { SimilarityFit, SimilarityPoint } from '../../core/adjustment/fit-similarity.js';
import { controlSpread } from '../../core/adjustment/control-spread.js';
import type { ControlSpread } from '../../core/adjustment/control-spread.js';
import { varianceFactor } from '../../core/adjustment/variance-factor.js';
import type { VarianceFactor } from '../../core/adjustment/variance-factor.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { SiteScale, SiteVertical } from '../../records/reports/parts/site-fit.js';
import { poorSpread, tooFew, unchecked } from './control/control-problems.js';
import { expectedFactors } from './doubts/expected-factors.js';
import type { ExpectedFactors } from './doubts/expected-factors.js';
import type { ControlPair } from './control/pair-control.js';
import { sharedErrors } from './control/shared-base.js';
import { heightPart } from './height-part.js';
import { exchangeOf } from './doubts/site-exchange.js';
import type { SiteExchange } from './doubts/site-exchange.js';
import { hasVariance, statedSigmas } from './control/stated-sigmas.js';

export interface SiteFitSettings {
  /** Of the grid's base. */
  readonly ellipsoid: Ellipsoid;
  readonly scale: SiteScale;
  readonly vertical: SiteVertical;
  /** With `vertical` surface. */
  readonly surface: SurfaceSettings;
  /** Go on where the control lies close to one line. */
  readonly allowPoorSpread: boolean;
}

/** A fitted site before it is judged. */
export interface FittedSite {
  readonly horizontal: SimilarityFit;
  readonly horizontalFactor: VarianceFactor;
  readonly horizontalPairs: readonly ControlPair[];
  readonly sigmasAreStated: boolean;
  readonly spread: ControlSpread;
  readonly vertical: VerticalFit | null;
  readonly verticalFactor: VarianceFactor | null;
  readonly verticalPairs: readonly ControlPair[];
  readonly heightSigmasAreStated: boolean;
  readonly expected: ExpectedFactors;
  /** Of the single tests, so that all together keep one level. */
  readonly levels: SiteTestLevels;
  /** Whether heights that an inclined plane leaves follow a surface; null: not tested. */
  readonly curvature: CurvatureTest | null;
  /** Control points whose names look exchanged; null: none do. */
  readonly exchange: SiteExchange | null;
}

/**
 * Fits a site to the control marked `fit`: a similarity in plan, and a shift or plane in height.
 *
 * Problems: site-too-few-control, site-poor-spread, method-no-convergence, value-missing for sigmas
 * that some points state and others do not. Warnings: config-unstated, site-unchecked.
 */
export function fitSite(pairs: readonly ControlPair[], settings: SiteFitSettings): Outcome<FittedSite> {
  const fitted = pairs.filter((pair) => pair.role === 'fit');
  const inPlan = fitted.filter((pair) => pair.target !== null);
  const warnings: Problem[] = [];
  if (inPlan.length < 2)
    return failure(
      tooFew(
        `${inPlan.length} control ${inPlan.length === 1 ? 'point' : 'points'} marked fit with a place`,
        'a fit in plan needs 2 and is checked only from 3',
      ),
    );
  const spread = controlSpread(inPlan.map((pair) => pair.source));
  const spreadProblem = poorSpread(spread, inPlan.length, 'the control');
  if (spreadProblem !== null) {
    if (!settings.allowPoorSpread) return failure(spreadProblem);
    warnings.push({ ...spreadProblem, severity: 'warning' });
  }
  const expected = expectedFactors(inPlan, settings.ellipsoid);
  const scale = scaleOf(settings.scale, expected);
  if (!scale.ok) return scale;

  const stated = statedSigmas(inPlan, (pair) => hasVariance(pair), 'in plan');
  if (!stated.ok) return stated;
  pushAll(warnings, stated.problems);
  const plan = planFit(inPlan, scale.value, stated.value);
  if (!plan.ok) return plan;
  const horizontal = plan.value;
  const height = heightPart(fitted, settings, horizontal.similarity.sourceOrigin);
  if (!height.ok) return height;
  pushAll(warnings, height.problems);
  pushAll(warnings, plan.problems);
  const { vertical, verticalPairs, heightSigmasAreStated } = height.value;
  const levels = siteTestLevels(
    [stated.value, vertical !== null && heightSigmasAreStated].filter(Boolean).length,
    testsMade(pairs, inPlan.length, stated.value, vertical === null ? null : verticalPairs.length),
  );
  return success(
    {
      ...height.value,
      horizontal,
      horizontalFactor: varianceFactor(horizontal.adjustment, stated.value, levels.factor),
      horizontalPairs: inPlan,
      sigmasAreStated: stated.value,
      spread,
      verticalFactor:
        vertical === null ? null : varianceFactor(vertical.adjustment, heightSigmasAreStated, levels.factor),
      expected,
      levels,
      curvature: curvatureOf(height.value),
      exchange: exchangeOf(inPlan, scale.value),
    },
    warnings,
  );
}

/** The similarity in plan. Warnings: site-unchecked for two points, and for three. */
function planFit(inPlan: readonly ControlPair[], scale: number | null, stated: boolean): Outcome<SimilarityFit> {
  const fit = fitSimilarity(
    inPlan.map((pair) => similarityPoint(pair, stated)),
    scale,
    stated ? sharedErrors(inPlan, ({ horizontalM2 }) => horizontalM2) : [],
  );
  if (fit === 'undetermined')
    return failure(tooFew('the control is one place only', 'measure control in different places'));
  if (fit === 'no-convergence')
    return failure(
      errorProblem('method-no-convergence', {
        message: 'the similarity does not settle: the two sets of places have nothing in common',
        hint: 'check ids, axes and units of the control',
      }),
    );
  if (fit.adjustment.redundancy === 0)
    return success(fit, [unchecked('two points fit any similarity: nothing checks the fit in plan')]);
  if (inPlan.length < 4)
    return success(fit, [unchecked('three points check the fit in plan only weakly: four around the site are better')]);
  return success(fit);
}

/** Whether heights that an inclined plane leaves follow a surface. */
function curvatureOf({
  vertical,
  verticalPairs,
  heightSigmasAreStated,
}: Pick<FittedSite, 'vertical' | 'verticalPairs' | 'heightSigmasAreStated'>): CurvatureTest | null {
  if (vertical?.kind !== 'plane') return null;
  const places = verticalPairs.map((pair) => pair.source);
  return curvatureTest(vertical, places, heightSigmasAreStated, SITE_CURVATURE_LEVEL);
}

/** How many single tests are made of all points together. Given: pairs; points fitted in plan, and in height or null. */
function testsMade(
  pairs: readonly ControlPair[],
  inPlan: number,
  planSigmasAreStated: boolean,
  atHeight: number | null,
): number {
  const checks = pairs.filter((pair) => pair.role === 'check');
  // Without stated sigmas the two coordinates of a place are tested together.
  const ofPlan = (planSigmasAreStated ? 2 : 1) * inPlan + checks.filter((pair) => pair.target !== null).length;
  return atHeight === null ? ofPlan : ofPlan + atHeight + checks.filter((pair) => pair.controlHeightM !== null).length;
}

function scaleOf(scale: SiteScale, expected: ExpectedFactors): Outcome<number | null> {
  switch (scale.kind) {
    case 'free':
      return success(null);
    case 'stated':
      return success(scale.scale);
    case 'ground':
      if (expected.combinedFactor === null) {
        return failure(
          errorProblem('value-missing', {
            message: 'a ground scale needs the combined factor, and so ellipsoidal heights of the measured points',
            hint: 'give ellipsoidal_height_m, or orthometric heights and --geoid',
          }),
        );
      }
      return success(1 / expected.combinedFactor);
  }
}

function similarityPoint(pair: ControlPair, stated: boolean): SimilarityPoint {
  const { source, sourceCovariance, targetCovariance } = pair;
  const target = pair.target ?? source;
  return stated
    ? { source, target, sourceCovariance, targetCovariance, sharedWith: pair.shared?.id ?? null }
    : { source, target, sourceCovariance: { xx: 0, xy: 0, yy: 0 }, targetCovariance: { xx: 1, xy: 0, yy: 1 } };
}
