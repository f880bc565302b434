import { INTERNATIONAL_FOOT_M } from '../../numeric/length-units.js';
import type { DiagnosisSigmas } from './site-levels.js';

/** What a fit says of itself, for the diagnosis. Angles in degrees, lengths in metres. */
export interface DiagnosisInput {
  readonly points: number;
  readonly scale: number;
  /** One sigma of the scale; 0 where it was stated. */
  readonly scaleSigma: number;
  readonly scaleIsFree: boolean;
  readonly rotationDeg: number;
  readonly rotationSigmaDeg: number;
  /** Site minus grid at the middle of the control. */
  readonly shiftEastM: number;
  readonly shiftNorthM: number;
  readonly shiftSigmaM: number;
  /** What scale, rotation and shift may differ by, in sigmas. */
  readonly planSigmas: DiagnosisSigmas;
  /** Root mean square of the residuals in plan; and of a fit with one axis of the control turned round. */
  readonly rmsM: number;
  readonly mirroredRmsM: number | null;
  /** Names that fit the other way round, or one place on, and the RMS then, metres; null: none do. */
  readonly exchange: { readonly cycles: readonly (readonly string[])[]; readonly rmsM: number } | null;
  /** One sigma of a coordinate by the residuals, metres; null without redundancy. And as stated on the whole; null: not stated. */
  readonly coordinateSigmaM: number | null;
  readonly statedSigmaM: number | null;
  /** Point scale factor and convergence at the middle; combined factor where heights are known. */
  readonly pointScaleFactor: number | null;
  readonly combinedFactor: number | null;
  readonly convergenceDeg: number;
  /** Half the range of the convergence over the control. */
  readonly convergenceRangeDeg: number;
  /** Zones in which the measured points have the control's own coordinates, described; empty: none. */
  readonly otherZones: readonly string[];
  /** Offset at the middle and steepest slope, mm per km, each with one sigma; null: heights are not fitted. */
  readonly height: {
    readonly offsetM: number;
    readonly offsetSigmaM: number;
    readonly slopeMmPerKm: number;
    readonly slopeSigmaMmPerKm: number;
    readonly sigmas: DiagnosisSigmas;
  } | null;
  /** Heights that the plane leaves follow a surface. */
  readonly isCurved: boolean;
}

export type DiagnosisKind =
  | 'feet'
  | 'exchanged'
  | 'names-exchanged'
  | 'beyond-survey'
  | 'beyond-scale'
  | 'untold-scale'
  | 'curved'
  | 'reversed'
  | 'quarter-turn'
  | 'other-zone'
  | 'wrong-base'
  | 'grid-itself'
  | 'subtracted'
  | 'grid-scale'
  | 'ground-scale'
  | 'ellipsoidal-scale'
  | 'unconfirmed-ground'
  | 'odd-scale'
  | 'grid-north'
  | 'true-north'
  | 'own-north'
  | 'height-shift'
  | 'tilt';

/** One finding. `error`: the control cannot be what it says; `suspect`: settle it first; `review`: worth a look; `note`: as it should be, or worth knowing. */
export interface Finding {
  readonly kind: DiagnosisKind;
  readonly weight: 'error' | 'suspect' | 'review' | 'note';
}

const FOOT_TOLERANCE = 0.002;
/** Control that fits no better than this is no survey, whatever it is, metres; and no better than so many times its stated sigmas. Common practice, no published source. */
export const MOST_SURVEY_SIGMA_M = 1;
const MOST_STATED_TIMES = 5;
/** Heights from −500 to 9000 m change lengths by less than 0.15 %, and grids are made to stay within 0.1 %; beyond this a scale is no scale of lengths. */
const MOST_SCALE_CHANGE = 0.005;
/** A scale known no better than this tells grid from ground by chance only. */
const UNTOLD_SCALE = 100e-6;
/** Scale and rotation agree with what is expected within these, or the sigmas of the diagnosis where that is more; common practice, no published source. */
export const SCALE_TOLERANCE = 10e-6;
export const ROTATION_TOLERANCE_DEG: number = 5 / 3600;
/** Smaller shifts are the base's own error, metres; common practice, no published source. */
const LEAST_SHIFT_M = 0.05;
/** Shifts below this are those of a wrong base or another datum; larger ones look chosen. */
const CHOSEN_SHIFT_M = 2000;
/** Steeper planes over a geoid are suspicious, mm per km; common practice, no published source. */
const STEEP_MM_PER_KM = 10;

/** Where people survey, metres above the ellipsoid. */
const LOWEST_GROUND_M = -500;
const HIGHEST_GROUND_M = 6000;
/** Good to half a percent, for a height in words only. */
const EARTH_RADIUS_M = 6_371_000;

/** The height above the ellipsoid at which ground lengths would have the scale of a fit, metres. Given: the point scale factor is known. */
export function impliedHeightM({
  scale,
  pointScaleFactor,
}: Pick<DiagnosisInput, 'scale' | 'pointScaleFactor'>): number {
  return (scale * (pointScaleFactor ?? 1) - 1) * EARTH_RADIUS_M;
}

/**
 * What scale, rotation, shift and tilt of a site point to.
 *
 * Given: the fit and what the grid would make of it. Returned: findings, the gravest first; where the
 * control cannot be in the axes or unit it claims, names are exchanged, or no survey fits so badly, that alone.
 */
export function siteDiagnosis(input: DiagnosisInput): readonly Finding[] {
  const wrong = wrongAxes(input);
  if (wrong !== null) return [wrong];
  const unusable = beyondReason(input);
  if (unusable !== null) return [unusable];
  const findings: Finding[] = [];
  const scaleTolerance = Math.max(SCALE_TOLERANCE, input.planSigmas.one * input.scaleSigma);
  const rotationTolerance = Math.max(ROTATION_TOLERANCE_DEG, input.planSigmas.one * input.rotationSigmaDeg);
  const isUnscaled = Math.abs(input.scale - 1) <= scaleTolerance;
  const isUnturned = Math.abs(input.rotationDeg) <= rotationTolerance;
  if (input.otherZones.length > 0) findings.push({ kind: 'other-zone', weight: 'suspect' });
  else if (isUnscaled && isUnturned) findings.push(shifted(input));
  if (input.otherZones.length === 0) {
    if (input.scaleIsFree) findings.push(scaled(input, isUnscaled, scaleTolerance));
    findings.push(turned(input, isUnturned, rotationTolerance));
  }
  const { height } = input;
  if (height !== null) {
    if (height.slopeMmPerKm > STEEP_MM_PER_KM && height.slopeMmPerKm > height.sigmas.slope * height.slopeSigmaMmPerKm)
      findings.push({ kind: 'tilt', weight: 'suspect' });
    if (Math.abs(height.offsetM) > Math.max(0.1, height.sigmas.one * height.offsetSigmaM))
      findings.push({ kind: 'height-shift', weight: 'note' });
  }
  if (input.isCurved) findings.push({ kind: 'curved', weight: 'review' });
  const order = { error: 0, suspect: 1, review: 2, note: 3 } as const;
  return findings.sort((a, b) => order[a.weight] - order[b.weight]);
}

function wrongAxes(input: DiagnosisInput): Finding | null {
  const { scale, rotationDeg, rmsM, mirroredRmsM } = input;
  if (input.points >= 3 && mirroredRmsM !== null && rmsM > 1 && mirroredRmsM < rmsM / 10)
    return { kind: 'exchanged', weight: 'error' };
  // With two names exchanged a fit has any scale and any rotation, and may by chance have these.
  if (input.exchange !== null) return null;
  if (
    input.scaleIsFree &&
    [INTERNATIONAL_FOOT_M, 1 / INTERNATIONAL_FOOT_M].some((feet) => Math.abs(scale / feet - 1) < FOOT_TOLERANCE)
  )
    return { kind: 'feet', weight: 'error' };
  if (Math.abs(Math.abs(rotationDeg) - 180) < 0.5) return { kind: 'reversed', weight: 'error' };
  if (Math.abs(Math.abs(rotationDeg) - 90) < 0.5) return { kind: 'quarter-turn', weight: 'suspect' };
  return null;
}

/** What makes every conclusion from scale and rotation worthless. */
function beyondReason(input: DiagnosisInput): Finding | null {
  if (input.exchange !== null) return { kind: 'names-exchanged', weight: 'suspect' };
  const { coordinateSigmaM, statedSigmaM, scale } = input;
  if (
    coordinateSigmaM !== null &&
    // Nothing stated: held against what surveys reach at most.
    coordinateSigmaM > Math.max(MOST_SURVEY_SIGMA_M, MOST_STATED_TIMES * (statedSigmaM ?? 0))
  )
    return { kind: 'beyond-survey', weight: 'suspect' };
  const isFar = (factor: number): boolean => Math.abs(scale * factor - 1) > MOST_SCALE_CHANGE;
  return input.scaleIsFree && input.otherZones.length === 0 && isFar(1) && isFar(input.pointScaleFactor ?? 1)
    ? { kind: 'beyond-scale', weight: 'suspect' }
    : null;
}

function shifted(input: DiagnosisInput): Finding {
  const shiftM = Math.hypot(input.shiftEastM, input.shiftNorthM);
  if (shiftM <= Math.max(LEAST_SHIFT_M, input.planSigmas.one * input.shiftSigmaM))
    return { kind: 'grid-itself', weight: 'note' };
  return shiftM < CHOSEN_SHIFT_M ? { kind: 'wrong-base', weight: 'suspect' } : { kind: 'subtracted', weight: 'note' };
}

function scaled(input: DiagnosisInput, isUnscaled: boolean, tolerance: number): Finding {
  const { scale, combinedFactor, pointScaleFactor } = input;
  const agrees = (factor: number | null): boolean => factor !== null && Math.abs(scale * factor - 1) <= tolerance;
  if (tolerance > UNTOLD_SCALE) return { kind: 'untold-scale', weight: 'note' };
  // Where both would do, the nearer one is named.
  const groundIsNearer = combinedFactor !== null && Math.abs(scale * combinedFactor - 1) < Math.abs(scale - 1);
  if (agrees(combinedFactor) && (!isUnscaled || groundIsNearer)) return { kind: 'ground-scale', weight: 'note' };
  if (isUnscaled) return { kind: 'grid-scale', weight: 'note' };
  if (agrees(pointScaleFactor)) return { kind: 'ellipsoidal-scale', weight: 'note' };
  if (combinedFactor === null && pointScaleFactor !== null) {
    const heightM = impliedHeightM(input);
    if (heightM > LOWEST_GROUND_M && heightM < HIGHEST_GROUND_M) return { kind: 'unconfirmed-ground', weight: 'note' };
  }
  return { kind: 'odd-scale', weight: 'suspect' };
}

function turned(input: DiagnosisInput, isUnturned: boolean, tolerance: number): Finding {
  if (isUnturned) return { kind: 'grid-north', weight: 'note' };
  // Site bearing = grid bearing − rotation, azimuth = grid bearing + convergence.
  const isTrueNorth = Math.abs(input.rotationDeg + input.convergenceDeg) <= tolerance + input.convergenceRangeDeg;
  return { kind: isTrueNorth ? 'true-north' : 'own-north', weight: 'note' };
}
