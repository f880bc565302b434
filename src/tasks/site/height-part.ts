import { controlSpread } from '../../core/adjustment/control-spread.js';
import { fitHeights } from '../../core/adjustment/fit-heights.js';
import type { HeightFit } from '../../core/adjustment/fit-heights.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { present } from '../../records/present.js';
import { poorSpread, tooFew, unchecked } from './control/control-problems.js';
import type { FittedSite, SiteFitSettings } from './fit-site.js';
import type { ControlPair } from './control/pair-control.js';
import { sharedErrors } from './control/shared-base.js';
import { statedSigmas } from './control/stated-sigmas.js';
import { fitSurface } from './surface/surface-fit.js';
import type { VerticalFit } from './vertical-fit.js';

/** The fit in height of the control that has heights, if one is asked for. */
export function heightPart(
  fitted: readonly ControlPair[],
  settings: SiteFitSettings,
  origin: FittedSite['spread']['centre'],
): Outcome<Pick<FittedSite, 'vertical' | 'verticalPairs' | 'heightSigmasAreStated'>> {
  const isAsked = settings.vertical !== 'none';
  const verticalPairs = isAsked ? fitted.filter((pair) => pair.controlHeightM !== null) : [];
  const stated = statedSigmas(verticalPairs, (pair) => pair.heightVarianceM2 > 0, 'in height');
  if (!stated.ok) return stated;
  const heightSigmasAreStated = stated.value;
  if (!isAsked) return success({ vertical: null, verticalPairs, heightSigmasAreStated });
  const fit =
    settings.vertical === 'surface'
      ? surfacePart(verticalPairs, settings, heightSigmasAreStated)
      : heightFit(verticalPairs, settings, heightSigmasAreStated, origin);
  return fit.ok
    ? success({ vertical: fit.value, verticalPairs, heightSigmasAreStated }, [...stated.problems, ...fit.problems])
    : fit;
}

/** Trend and signal, which need to know what is noise. Problems: value-missing where no sigma is stated; those of `fitSurface`. */
function surfacePart(
  pairs: readonly ControlPair[],
  { surface, allowPoorSpread }: SiteFitSettings,
  stated: boolean,
): Outcome<VerticalFit> {
  if (!stated && pairs.length > 0)
    return failure(
      errorProblem('value-missing', {
        message: 'a surface weighs the signal against the noise of each height, and no sigma of a height is stated',
        hint: 'fill sigma_vertical_m of the control and sigma_up_m of the points, or give --vertical plane',
      }),
    );
  return fitSurface({
    pairs,
    shared: sharedErrors(pairs, ({ verticalM2 }) => verticalM2),
    settings: surface,
    allowPoorSpread,
  });
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
