import type { CurvatureTest } from '../../core/adjustment/curvature-test.js';
import { RECORDING_SIGMA_M } from '../../core/adjustment/variance-factor.js';
import {
  impliedHeightM,
  MOST_SURVEY_SIGMA_M,
  SCALE_TOLERANCE,
  siteDiagnosis,
} from '../../core/adjustment/site/site-diagnosis.js';
import type { DiagnosisInput, Finding } from '../../core/adjustment/site/site-diagnosis.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { errorProblem, warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { diagnosisInput } from './doubts/diagnosis-input.js';
import type { FittedSite } from './fit-site.js';
import { entryAt, present } from '../../records/present.js';

/** What a fit points to, in words; problems for what has to be settled, or cannot be right at all. */
export interface SiteStatements {
  /** Everything found, for the site file. */
  readonly statements: readonly string[];
  /** Those of them that are no problem. */
  readonly notes: readonly string[];
  readonly problems: readonly Problem[];
  /** Nothing may be concluded from the fit, nor the site be used. */
  readonly isUnusable: boolean;
}

/** The diagnosis of a fit in plain words. Problems: csv-axes-mismatch, coordinate-implausible; warnings: site-suspect, site-curved. */
export function siteStatements(fitted: FittedSite, grid: GridSystem): SiteStatements {
  const input = diagnosisInput(fitted, grid);
  const statements: string[] = [];
  const notes: string[] = [];
  const problems: Problem[] = [];
  const findings = siteDiagnosis(input);
  const isUnusable = findings.some(({ kind }) => UNUSABLE.includes(kind));
  for (const finding of findings) {
    const { text, hint } = findingWords(finding, input, grid, fitted.curvature);
    if (finding.weight === 'note') {
      statements.push(text);
      notes.push(text);
    } else if (finding.weight === 'suspect') {
      statements.push(`${text}: ${hint}`);
      problems.push(warningProblem('site-suspect', { message: text, hint }));
    } else if (finding.weight === 'review') {
      statements.push(`${text}: ${hint}`);
      problems.push(warningProblem('site-curved', { message: text, hint }));
    } else
      problems.push(
        errorProblem(finding.kind === 'feet' ? 'coordinate-implausible' : 'csv-axes-mismatch', { message: text, hint }),
      );
  }
  const assumed = isUnusable ? [] : assumptions(fitted);
  return { statements: [...statements, ...assumed], notes: [...notes, ...assumed], problems, isUnusable };
}

const UNUSABLE: readonly Finding['kind'][] = ['names-exchanged', 'beyond-survey', 'beyond-scale'];

/** What the sigmas of the site rest on: what points share, and what was put in place of residuals that are too small. */
function assumptions({
  horizontalPairs,
  sigmasAreStated,
  horizontalFactor,
  verticalFactor,
}: FittedSite): readonly string[] {
  const bases = new Map(
    horizontalPairs.flatMap(({ shared }) => (shared === null ? [] : [[shared.id, shared] as const])),
  );
  const mm = (variance: number): string => `${formatFixed(Math.sqrt(variance) * 1000, 0)} mm`;
  const shared = [...bases.values()].map(
    ({ names, horizontalM2, verticalM2 }) =>
      `the points of base ${names} share its error, ${mm(horizontalM2)} in plan and ${mm(verticalM2)} in height (one sigma): it is in the uncertainty of the site, and cancels for what is measured from the same base`,
  );
  const lone = horizontalPairs.filter((pair) => pair.shared === null).length;
  const alone =
    sigmasAreStated && lone > 0
      ? [
          `the errors of ${lone === horizontalPairs.length ? 'the measured points' : `${String(lone)} measured points`} are taken as independent: what they share through their base is not known without a session that states the sigmas of the base, and the uncertainty of the site leaves it out`,
        ]
      : [];
  const floors = [['plan', horizontalFactor] as const, ['height', verticalFactor] as const].flatMap(([what, found]) =>
    found?.isFloored === true
      ? [
          `the residuals in ${what} are smaller than coordinates are recorded to (one sigma ${formatFixed(Math.sqrt(present(found.estimate, 'estimate')) * 1000, 3)} mm): ${formatFixed(RECORDING_SIGMA_M * 1000, 1)} mm is taken for it`,
        ]
      : [],
  );
  return [...shared, ...alone, ...floors];
}

const ppm = (value: number): string => `${formatFixed(value * 1e6, 1)} ppm`;
/** Two names are exchanged; of more each is at the place of the next, and the last at that of the first. */
function exchangeWords(cycles: readonly (readonly string[])[]): string {
  return `the names of ${cycles.map((ids) => (ids.length === 2 ? ids.join(' and ') : `${ids.join(' → ')} → ${entryAt(ids, 0)}`)).join(', and of ')}`;
}

const factor = (value: number): string => formatFixed(value, 9);
const m = (value: number): string => `${formatFixed(value, 3)} m`;

/** What a finding says, and what is to be done about it. */
export function findingWords(
  { kind }: Finding,
  input: DiagnosisInput,
  grid: GridSystem,
  curvature: CurvatureTest | null,
): { readonly text: string; readonly hint: string } {
  const { scale, combinedFactor, pointScaleFactor, rotationDeg } = input;
  const say = (text: string, hint = ''): { readonly text: string; readonly hint: string } => ({ text, hint });
  switch (kind) {
    case 'feet':
      return say(
        `the scale between the points and the control is ${formatFixed(scale, 6)}: one of the two is in feet`,
        'find out which foot, and convert the file or name its unit; nothing is converted by guess',
      );
    case 'exchanged':
      return say(
        `the control fits to ${m(present(input.mirroredRmsM, 'mirroredRmsM'))} only as a mirror image, and to ${m(input.rmsM)} as it is: its two axes are exchanged, or one has the wrong sign`,
        'map the columns of the control the right way round with --control-columns, or mend the file',
      );
    case 'names-exchanged':
      return say(
        `${exchangeWords(present(input.exchange, 'exchange').cycles)} look exchanged: put right so, the control fits to ${m(present(input.exchange?.rmsM, 'rmsM'))} and not to ${m(input.rmsM)}${present(input.exchange?.rmsM, 'rmsM') > MOST_SURVEY_SIGMA_M ? ', which is no survey either: more is wrong' : ''}`,
        'find out on which side the names are wrong, mend the file and fit again; nothing is exchanged by guess, and nothing is concluded from this fit',
      );
    case 'beyond-survey':
      return say(
        `one sigma of a coordinate is ${m(present(input.coordinateSigmaM, 'coordinateSigmaM'))}: no survey fits its control so badly`,
        'look for names that are exchanged or belong to other marks, for mixed zones or units, and for a blunder; nothing is concluded from this fit',
      );
    case 'beyond-scale':
      return say(
        `the scale ${factor(scale)} is beyond what a projection and any height on land make of a length`,
        'look for another unit, names of other marks, or a blunder; nothing is concluded from this fit',
      );
    case 'untold-scale':
      return say(
        `the scale ${factor(scale)} is known to ${ppm(Math.max(SCALE_TOLERANCE, input.planSigmas.one * input.scaleSigma))} only: this control does not tell whether site lengths are grid lengths, ground lengths or others`,
      );
    case 'curved':
      return say(
        `the heights that the plane leaves follow a curved surface (${formatFixed(present(curvature, 'curvature').statistic, 1)}, limit ${formatFixed(present(curvature, 'curvature').limit, 1)}), up to ${formatFixed(present(curvature?.largestM, 'largestM') * 1000, 0)} mm from the plane at the control: between and beyond the control heights are worse than their sigma says`,
        'use a geoid model that takes the curve, or fit smaller parts; one wrong height can look like a curve, so check the largest residual first',
      );
    case 'reversed':
      return say(
        `the control is turned by ${formatFixed(rotationDeg, 4)}°: both its axes run the other way, as westings and southings given as eastings and northings`,
        'name the axes of the control by what they are (--site-axes)',
      );
    case 'quarter-turn':
      return say(
        `the site is turned by ${formatFixed(rotationDeg, 4)}°, close to a right angle`,
        'make sure that the axes of the control are not exchanged with one sign changed',
      );
    case 'other-zone':
      return say(
        `the measured points have the control's coordinates in another grid (${input.otherZones.join(', ')}): the control is in that one and not in ${grid.name}`,
        'reduce or transform the points to that grid; a fit over a wrong zone hides the change of scale and convergence',
      );
    case 'wrong-base':
      return say(
        `the control is the grid itself, moved by ${m(input.shiftEastM)} east and ${m(input.shiftNorthM)} north: that is no site of its own but a wrong base coordinate, or another datum or epoch`,
        'put the base right (known coordinate of the base in the session) or name the change of datum, and fit again; a fit hides the cause and bends long vectors',
      );
    case 'grid-itself':
      return say(
        `the control is the grid itself: scale 1, no rotation, and ${m(Math.hypot(input.shiftEastM, input.shiftNorthM))} of shift within its uncertainty`,
      );
    case 'subtracted':
      return say(
        `the site is the grid with constants added: ${m(input.shiftEastM)} east and ${m(input.shiftNorthM)} north`,
      );
    case 'grid-scale':
      return say(
        `site lengths are grid lengths: scale ${factor(scale)}, ${ppm(scale - 1)} from 1${combinedFactor === null ? '' : ` (ground lengths would need ${factor(1 / combinedFactor)})`}`,
      );
    case 'ground-scale':
      return say(
        `site lengths are ground lengths: scale ${factor(scale)}, and 1 / combined factor is ${factor(1 / (combinedFactor ?? 1))} (${ppm(scale * (combinedFactor ?? 1) - 1)} apart); apply no further factor to them`,
      );
    case 'ellipsoidal-scale':
      return say(
        `site lengths are lengths on the ellipsoid: scale ${factor(scale)}, and 1 / point scale factor is ${factor(1 / (pointScaleFactor ?? 1))}`,
      );
    case 'odd-scale':
      return say(
        `the scale ${factor(scale)} is neither that of the grid (${ppm(scale - 1)} from 1) nor of ground lengths${combinedFactor === null ? ', as far as can be told without ellipsoidal heights' : ` (${ppm(scale * combinedFactor - 1)} from 1 / combined factor ${factor(1 / combinedFactor)})`}`,
        'find out what the lengths of the site are: another unit, another zone, ground lengths at another height, or a blunder',
      );
    case 'unconfirmed-ground':
      return say(
        `the scale ${factor(scale)} would be that of ground lengths at about ${formatFixed(impliedHeightM(input), 0)} m above the ellipsoid; without ellipsoidal heights that cannot be confirmed`,
      );
    case 'grid-north':
      // Never within nothing.
      return say(`site north is grid north within ${formatFixed(Math.max(0.1, Math.abs(rotationDeg) * 3600), 1)}″`);
    case 'true-north':
      return say(
        `site north is true north: rotation ${formatFixed(rotationDeg, 5)}°, convergence ${formatFixed(input.convergenceDeg, 5)}°`,
      );
    case 'own-north':
      return say(
        `the site has a north of its own: rotation ${formatFixed(rotationDeg, 5)}° (true north would be ${formatFixed(-input.convergenceDeg, 5)}°, grid north 0°)`,
      );
    case 'height-shift':
      return say(
        `site heights differ from measured ones by ${m(present(input.height?.offsetM, 'offsetM'))} at the middle: another level, or the error of the geoid or of the base height`,
      );
    case 'tilt':
      return say(
        `the plane tilts by ${formatFixed(present(input.height, 'height').slopeMmPerKm, 1)} mm a km over the measured heights: more than what geoid models usually leave`,
        'check the heights of the control, the geoid and the base; without a geoid the tilt of the geoid itself is in it',
      );
  }
}
