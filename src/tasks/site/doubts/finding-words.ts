import type { CurvatureTest } from '../../../core/adjustment/curvature-test.js';
import { impliedHeightM, MOST_SURVEY_SIGMA_M, SCALE_TOLERANCE } from '../../../core/adjustment/site/site-diagnosis.js';
import type { DiagnosisInput, Finding } from '../../../core/adjustment/site/site-diagnosis.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { entryAt, present } from '../../../records/present.js';

/** What a finding says of a fit. */
interface FoundOf {
  readonly input: DiagnosisInput;
  readonly grid: GridSystem;
  readonly curvature: CurvatureTest | null;
}

interface FindingWords {
  readonly text: string;
  /** What is to be done about it; empty: nothing. */
  readonly hint: string;
}

const ppm = (value: number): string => `${formatFixed(value * 1e6, 1)} ppm`;
/** Two names are exchanged; of more each is at the place of the next, and the last at that of the first. */
function exchangeWords(cycles: readonly (readonly string[])[]): string {
  return `the names of ${cycles.map((ids) => (ids.length === 2 ? ids.join(' and ') : `${ids.join(' → ')} → ${entryAt(ids, 0)}`)).join(', and of ')}`;
}

const factor = (value: number): string => formatFixed(value, 9);
const m = (value: number): string => `${formatFixed(value, 3)} m`;

const say = (text: string, hint = ''): FindingWords => ({ text, hint });

const WORDS: Readonly<Record<Finding['kind'], (of: FoundOf) => FindingWords>> = {
  feet: ({ input }) =>
    say(
      `the scale between the points and the control is ${formatFixed(input.scale, 6)}: one of the two is in feet`,
      'find out which foot, and convert the file or name its unit; nothing is converted by guess',
    ),
  exchanged: ({ input }) =>
    say(
      `the control fits to ${m(present(input.mirroredRmsM, 'mirroredRmsM'))} only as a mirror image, and to ${m(input.rmsM)} as it is: its two axes are exchanged, or one has the wrong sign`,
      'map the columns of the control the right way round with --control-columns, or mend the file',
    ),
  'names-exchanged': ({ input }) =>
    say(
      `${exchangeWords(present(input.exchange, 'exchange').cycles)} look exchanged: put right so, the control fits to ${m(present(input.exchange?.rmsM, 'rmsM'))} and not to ${m(input.rmsM)}${present(input.exchange?.rmsM, 'rmsM') > MOST_SURVEY_SIGMA_M ? ', which is no survey either: more is wrong' : ''}`,
      'find out on which side the names are wrong, mend the file and fit again; nothing is exchanged by guess, and nothing is concluded from this fit',
    ),
  'beyond-survey': ({ input }) =>
    say(
      `one sigma of a coordinate is ${m(present(input.coordinateSigmaM, 'coordinateSigmaM'))}: no survey fits its control so badly`,
      'look for names that are exchanged or belong to other marks, for mixed zones or units, and for a blunder; nothing is concluded from this fit',
    ),
  'beyond-scale': ({ input }) =>
    say(
      `the scale ${factor(input.scale)} is beyond what a projection and any height on land make of a length`,
      'look for another unit, names of other marks, or a blunder; nothing is concluded from this fit',
    ),
  'untold-scale': ({ input }) =>
    say(
      `the scale ${factor(input.scale)} is known to ${ppm(Math.max(SCALE_TOLERANCE, input.planSigmas.one * input.scaleSigma))} only: this control does not tell whether site lengths are grid lengths, ground lengths or others`,
    ),
  curved: ({ curvature }) =>
    say(
      `the heights that the plane leaves follow a curved surface (${formatFixed(present(curvature, 'curvature').statistic, 1)}, limit ${formatFixed(present(curvature, 'curvature').limit, 1)}), up to ${formatFixed(present(curvature?.largestM, 'largestM') * 1000, 0)} mm from the plane at the control: between and beyond the control heights are worse than their sigma says`,
      'use a geoid model that takes the curve, or fit smaller parts; one wrong height can look like a curve, so check the largest residual first',
    ),
  reversed: ({ input }) =>
    say(
      `the control is turned by ${formatFixed(input.rotationDeg, 4)}°: both its axes run the other way, as westings and southings given as eastings and northings`,
      'name the axes of the control by what they are (--site-axes)',
    ),
  'quarter-turn': ({ input }) =>
    say(
      `the site is turned by ${formatFixed(input.rotationDeg, 4)}°, close to a right angle`,
      'make sure that the axes of the control are not exchanged with one sign changed',
    ),
  'other-zone': ({ input, grid }) =>
    say(
      `the measured points have the control's coordinates in another grid (${input.otherZones.join(', ')}): the control is in that one and not in ${grid.name}`,
      'reduce or transform the points to that grid; a fit over a wrong zone hides the change of scale and convergence',
    ),
  'wrong-base': ({ input }) =>
    say(
      `the control is the grid itself, moved by ${m(input.shiftEastM)} east and ${m(input.shiftNorthM)} north: that is no site of its own but a wrong base coordinate, or another datum or epoch`,
      'put the base right (known coordinate of the base in the session) or name the change of datum, and fit again; a fit hides the cause and bends long vectors',
    ),
  'grid-itself': ({ input }) =>
    say(
      `the control is the grid itself: scale 1, no rotation, and ${m(Math.hypot(input.shiftEastM, input.shiftNorthM))} of shift within its uncertainty`,
    ),
  subtracted: ({ input }) =>
    say(`the site is the grid with constants added: ${m(input.shiftEastM)} east and ${m(input.shiftNorthM)} north`),
  'grid-scale': ({ input }) =>
    say(
      `site lengths are grid lengths: scale ${factor(input.scale)}, ${ppm(input.scale - 1)} from 1${input.combinedFactor === null ? '' : ` (ground lengths would need ${factor(1 / input.combinedFactor)})`}`,
    ),
  'ground-scale': ({ input }) =>
    say(
      `site lengths are ground lengths: scale ${factor(input.scale)}, and 1 / combined factor is ${factor(1 / (input.combinedFactor ?? 1))} (${ppm(input.scale * (input.combinedFactor ?? 1) - 1)} apart); apply no further factor to them`,
    ),
  'ellipsoidal-scale': ({ input }) =>
    say(
      `site lengths are lengths on the ellipsoid: scale ${factor(input.scale)}, and 1 / point scale factor is ${factor(1 / (input.pointScaleFactor ?? 1))}`,
    ),
  'odd-scale': ({ input }) =>
    say(
      `the scale ${factor(input.scale)} is neither that of the grid (${ppm(input.scale - 1)} from 1) nor of ground lengths${input.combinedFactor === null ? ', as far as can be told without ellipsoidal heights' : ` (${ppm(input.scale * input.combinedFactor - 1)} from 1 / combined factor ${factor(1 / input.combinedFactor)})`}`,
      'find out what the lengths of the site are: another unit, another zone, ground lengths at another height, or a blunder',
    ),
  'unconfirmed-ground': ({ input }) =>
    say(
      `the scale ${factor(input.scale)} would be that of ground lengths at about ${formatFixed(impliedHeightM(input), 0)} m above the ellipsoid; without ellipsoidal heights that cannot be confirmed`,
    ),
  // Never within nothing.
  'grid-north': ({ input }) =>
    say(`site north is grid north within ${formatFixed(Math.max(0.1, Math.abs(input.rotationDeg) * 3600), 1)}″`),
  'true-north': ({ input }) =>
    say(
      `site north is true north: rotation ${formatFixed(input.rotationDeg, 5)}°, convergence ${formatFixed(input.convergenceDeg, 5)}°`,
    ),
  'own-north': ({ input }) =>
    say(
      `the site has a north of its own: rotation ${formatFixed(input.rotationDeg, 5)}° (true north would be ${formatFixed(-input.convergenceDeg, 5)}°, grid north 0°)`,
    ),
  'height-shift': ({ input }) =>
    say(
      `site heights differ from measured ones by ${m(present(input.height?.offsetM, 'offsetM'))} at the middle: another level, or the error of the geoid or of the base height`,
    ),
  tilt: ({ input }) =>
    say(
      `the plane tilts by ${formatFixed(present(input.height, 'height').slopeMmPerKm, 1)} mm a km over the measured heights: more than what geoid models usually leave`,
      'check the heights of the control, the geoid and the base; without a geoid the tilt of the geoid itself is in it',
    ),
};

/** What a finding says, and what is to be done about it. */
export function findingWords(
  { kind }: Finding,
  input: DiagnosisInput,
  grid: GridSystem,
  curvature: CurvatureTest | null,
): FindingWords {
  return WORDS[kind]({ input, grid, curvature });
}
