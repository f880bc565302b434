import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import { parseDecimal } from '../../../core/numeric/text/decimal-text.js';
import { metresPerUnitOf } from '../../../io/tables/points/point-row-columns.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { SiteLimits, SiteScale } from '../../../records/reports/parts/site-fit.js';
import type { SiteRequest } from '../../../tasks/site/run-site.js';
import { SURFACE_DEFAULTS } from '../../../tasks/site/surface/surface-settings.js';
import type { SurfaceSettings } from '../../../tasks/site/surface/surface-settings.js';
import { flagOf, flagOption, isGiven, numberOption, textOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';

/** How a site is to be fitted, and to what. */
export interface SiteAsked extends Pick<
  SiteRequest,
  'scale' | 'limits' | 'siteAxes' | 'vertical' | 'surface' | 'allowPoorSpread'
> {
  readonly controlPath: string;
}

/** What the options ask for. Problems: config-missing without control; usage-invalid. */
export function siteAsked(invocation: Invocation): Outcome<SiteAsked> {
  const controlPath = textOption(invocation, 'control');
  if (controlPath === null)
    return failure(errorProblem('config-missing', { message: 'no control is named', hint: 'give --control FILE' }));
  const scale = scaleOption(invocation);
  if (!scale.ok) return scale;
  const limits = limitOptions(invocation);
  if (!limits.ok) return limits;
  const siteAxes = siteAxesOption(invocation);
  if (!siteAxes.ok) return siteAxes;
  const surface = surfaceOptions(invocation);
  if (!surface.ok) return surface;
  return success({
    controlPath,
    scale: scale.value,
    limits: limits.value,
    siteAxes: siteAxes.value,
    vertical: textOption(invocation, 'vertical'),
    surface: surface.value,
    allowPoorSpread: flagOption(invocation, 'allowPoorSpread'),
  });
}

/** The scale asked for. Problems: usage-invalid. */
function scaleOption(invocation: Invocation): Outcome<SiteScale> {
  const text = textOption(invocation, 'scale') ?? 'free';
  if (text === 'free') return success({ kind: 'free' });
  if (text === 'grid') return success({ kind: 'stated', scale: 1 });
  if (text === 'ground') return success({ kind: 'ground' });
  const scale = parseDecimal(text);
  if (scale !== null && scale > 0.01 && scale < 100) return success({ kind: 'stated', scale });
  return failure(
    errorProblem('usage-invalid', {
      message: `--scale ${text} is neither free, grid, ground nor a number between 0.01 and 100`,
      received: text,
      hint: 'the number is site length over grid length, such as 1.000152',
    }),
  );
}

/** How a surface is asked for. Problems: usage-invalid for a length that is none, and for options of a surface without one. */
function surfaceOptions(invocation: Invocation): Outcome<SurfaceSettings> {
  const found: SurfaceSettings = {
    trend: textOption(invocation, 'trend'),
    kind: textOption(invocation, 'signal') ?? SURFACE_DEFAULTS.kind,
    sigmaM: numberOption(invocation, 'signalSigma'),
    lengthM: numberOption(invocation, 'signalLength'),
  };
  const given = (['trend', 'signal', 'signalSigma', 'signalLength'] as const).find((name) => isGiven(invocation, name));
  if (given !== undefined && textOption(invocation, 'vertical') !== 'surface')
    return failure(
      errorProblem('usage-invalid', {
        message: `${flagOf(given)} says how a surface of heights is made, and none is asked for`,
        hint: 'give --vertical surface with it',
      }),
    );
  for (const [name, value, least, most] of [
    ['--signal-sigma', found.sigmaM, 1e-5, 10],
    ['--signal-length', found.lengthM, 1, 1e7],
  ] as const)
    if (value !== null && !(value >= least && value <= most))
      return failure(
        errorProblem('usage-invalid', {
          message: `${name} ${value} is not between ${least} and ${most} m`,
          received: String(value),
          expected: `${least} to ${most} metres`,
        }),
      );
  return success(found);
}

/** The pair that --site-axes names; null where it is not given. Problems: usage-invalid. */
function siteAxesOption(invocation: Invocation): Outcome<SiteAxes | null> {
  const text = textOption(invocation, 'siteAxes');
  if (text === null) return success(null);
  const [first = '', second = '', ...more] = text.split(',').map((name) => name.trim());
  const metresPerUnit = metresPerUnitOf(first);
  const isPair =
    (first.startsWith('easting_') && second === first.replace('easting', 'northing')) ||
    (first.startsWith('westing_') &&
      (second === first.replace('westing', 'southing') || second === first.replace('westing', 'northing')));
  if (isPair && more.length === 0 && metresPerUnit !== null)
    return success({ columns: [first, second], metresPerUnit });
  return failure(
    errorProblem('usage-invalid', {
      message: `--site-axes ${text} is no pair of axes in a unit known by name`,
      received: text,
      hint: 'for example easting_m,northing_m or westing_m,southing_m or easting_us_survey_ft,northing_us_survey_ft',
    }),
  );
}

/** Limits of points kept out. Problems: usage-invalid for one that is not above 0. */
function limitOptions(invocation: Invocation): Outcome<SiteLimits & { readonly bufferM: number | null }> {
  const found = {
    horizontalM: numberOption(invocation, 'limitHorizontal'),
    verticalM: numberOption(invocation, 'limitVertical'),
    bufferM: numberOption(invocation, 'buffer'),
  };
  for (const [name, value, least] of [
    ['--limit-horizontal', found.horizontalM, 1e-6],
    ['--limit-vertical', found.verticalM, 1e-6],
    ['--buffer', found.bufferM, 0],
  ] as const) {
    if (value !== null && !(value >= least))
      return failure(
        errorProblem('usage-invalid', {
          message: `${name} ${value} is not a length`,
          received: String(value),
          expected: least === 0 ? '0 or more metres' : 'more than 0 metres',
        }),
      );
  }
  return success(found);
}
