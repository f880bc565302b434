import { curvatureTest } from '../../core/adjustment/curvature-test.js';
import type { CurvatureTest } from '../../core/adjustment/curvature-test.js';
import { siteTestLevels } from '../../core/adjustment/site-levels.js';
import type { SiteTestLevels } from '../../core/adjustment/site-levels.js';
import type { SharedError } from '../../core/adjustment/shared-error.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { SITE_CURVATURE_LEVEL } from '../../core/quality/decision-levels.js';
import { fitHeights } from '../../core/adjustment/fit-heights.js';
import type { HeightFit } from '../../core/adjustment/fit-heights.js';
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
import type { SiteScale, SiteVertical } from '../../records/reports/site-fit.js';
import { poorSpread, tooFew, unchecked } from './control-problems.js';
import { expectedFactors } from './expected-factors.js';
import type { ExpectedFactors } from './expected-factors.js';
import type { ControlPair } from './pair-control.js';
import type { SharedBase } from './shared-base.js';
import { exchangeOf } from './site-exchange.js';
import type { SiteExchange } from './site-exchange.js';
import { hasVariance, statedSigmas } from './stated-sigmas.js';
import { present } from '../../records/present.js';

export interface SiteFitSettings {
  /** Of the grid's base. */
  readonly ellipsoid: Ellipsoid;
  readonly scale: SiteScale;
  readonly vertical: SiteVertical;
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
  readonly vertical: HeightFit | null;
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
  const horizontal = fitSimilarity(
    inPlan.map((pair) => similarityPoint(pair, stated.value)),
    scale.value,
    stated.value ? sharedErrors(inPlan, ({ horizontalM2 }) => horizontalM2) : [],
  );
  if (horizontal === 'undetermined')
    return failure(tooFew('the control is one place only', 'measure control in different places'));
  if (horizontal === 'no-convergence') {
    return failure(
      errorProblem('method-no-convergence', {
        message: 'the similarity does not settle: the two sets of places have nothing in common',
        hint: 'check ids, axes and units of the control',
      }),
    );
  }
  const atHeight = settings.vertical === 'none' ? [] : fitted.filter((pair) => pair.controlHeightM !== null);
  const heightStated = statedSigmas(atHeight, (pair) => pair.heightVarianceM2 > 0, 'in height');
  if (!heightStated.ok) return heightStated;
  if (settings.vertical !== 'none') pushAll(warnings, heightStated.problems);
  const vertical =
    settings.vertical === 'none'
      ? success(null)
      : heightFit(atHeight, settings, heightStated.value, horizontal.similarity.sourceOrigin);
  if (!vertical.ok) return vertical;
  pushAll(warnings, vertical.problems);
  if (horizontal.adjustment.redundancy === 0)
    warnings.push(unchecked('two points fit any similarity: nothing checks the fit in plan'));
  else if (inPlan.length < 4)
    warnings.push(unchecked('three points check the fit in plan only weakly: four around the site are better'));
  const checks = pairs.filter((pair) => pair.role === 'check');
  // Without stated sigmas the two coordinates of a place are tested together.
  const tested =
    (stated.value ? 2 : 1) * inPlan.length +
    (vertical.value === null ? 0 : atHeight.length) +
    checks.filter((pair) => pair.target !== null).length +
    (vertical.value === null ? 0 : checks.filter((pair) => pair.controlHeightM !== null).length);
  const levels = siteTestLevels(
    [stated.value, vertical.value !== null && heightStated.value].filter(Boolean).length,
    tested,
  );
  const verticalFactor =
    vertical.value === null ? null : varianceFactor(vertical.value.adjustment, heightStated.value, levels.factor);
  return success(
    {
      horizontal,
      horizontalFactor: varianceFactor(horizontal.adjustment, stated.value, levels.factor),
      horizontalPairs: inPlan,
      sigmasAreStated: stated.value,
      spread,
      vertical: vertical.value,
      verticalFactor,
      verticalPairs: atHeight,
      heightSigmasAreStated: heightStated.value,
      expected,
      levels,
      curvature:
        vertical.value === null
          ? null
          : curvatureTest(
              vertical.value,
              atHeight.map((pair) => pair.source),
              heightStated.value,
              SITE_CURVATURE_LEVEL,
            ),
      exchange: exchangeOf(inPlan, scale.value),
    },
    warnings,
  );
}

/** Every base that some points share, with its variance. */
function sharedErrors(pairs: readonly ControlPair[], variance: (base: SharedBase) => number): readonly SharedError[] {
  const found = new Map<string, SharedError>();
  for (const { shared } of pairs)
    if (shared !== null && variance(shared) > 0) found.set(shared.id, { id: shared.id, varianceM2: variance(shared) });
  return [...found.values()];
}

function heightFit(
  pairs: readonly ControlPair[],
  settings: SiteFitSettings,
  stated: boolean,
  origin: FittedSite['spread']['centre'],
): Outcome<HeightFit | null> {
  const inclined = settings.vertical === 'plane';
  const needed = inclined ? 3 : 1;
  if (pairs.length < needed) {
    return failure(
      tooFew(
        `${pairs.length} control ${pairs.length === 1 ? 'point' : 'points'} marked fit with a height`,
        inclined
          ? 'an inclined plane needs 3 and is checked only from 4; give --vertical shift, or --vertical none'
          : 'a height shift needs 1; give --vertical none',
      ),
    );
  }
  const warnings: Problem[] = [];
  const spread = inclined
    ? poorSpread(controlSpread(pairs.map((pair) => pair.source)), pairs.length, 'the control with heights')
    : null;
  if (spread !== null) {
    if (!settings.allowPoorSpread) return failure(spread);
    warnings.push({ ...spread, severity: 'warning' });
  }
  const fit = fitHeights(
    pairs.map((pair) => ({
      place: pair.source,
      differenceM: present(pair.controlHeightM, 'controlHeightM') - present(pair.measuredHeightM, 'measuredHeightM'),
      varianceM2: stated ? pair.heightVarianceM2 : 1,
      sharedWith: pair.shared?.id ?? null,
    })),
    inclined,
    origin,
    stated ? sharedErrors(pairs, ({ verticalM2 }) => verticalM2) : [],
  );
  if (fit === null)
    return failure(
      tooFew(
        'the control with heights lies on one line',
        'an inclined plane needs heights around the site; give --vertical shift',
      ),
    );
  if (fit.adjustment.redundancy === 0)
    warnings.push(
      unchecked(
        `${pairs.length} ${pairs.length === 1 ? 'height fits' : 'heights fit'} any ${inclined ? 'plane' : 'shift'}: nothing checks the fit in height`,
      ),
    );
  return success(fit, warnings);
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
