import { INTERNATIONAL_FOOT_M } from '../numeric/length-units.js';

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
  /** Root mean square of the residuals in plan; and of a fit with one axis of the control turned round. */
  readonly rmsM: number;
  readonly mirroredRmsM: number | null;
  /** Point scale factor and convergence at the middle; combined factor where heights are known. */
  readonly pointScaleFactor: number | null;
  readonly combinedFactor: number | null;
  readonly convergenceDeg: number;
  /** Half the range of the convergence over the control. */
  readonly convergenceRangeDeg: number;
  /** Zones in which the measured points have the control's own coordinates, described; empty: none. */
  readonly otherZones: readonly string[];
  /** Offset at the middle and steepest slope, mm per km, each with one sigma; null: heights are not fitted. */
  readonly height: { readonly offsetM: number; readonly offsetSigmaM: number; readonly slopeMmPerKm: number; readonly slopeSigmaMmPerKm: number } | null;
}

export type DiagnosisKind =
  | 'feet' | 'exchanged' | 'reversed' | 'quarter-turn' | 'other-zone' | 'wrong-base' | 'grid-itself' | 'subtracted'
  | 'grid-scale' | 'ground-scale' | 'ellipsoidal-scale' | 'unconfirmed-ground' | 'odd-scale' | 'grid-north' | 'true-north' | 'own-north' | 'height-shift' | 'tilt';

/** One finding. `error`: the control cannot be what it says; `suspect`: settle it first; `note`: as it should be, or worth knowing. */
export interface Finding {
  readonly kind: DiagnosisKind;
  readonly weight: 'error' | 'suspect' | 'note';
}

const FOOT_TOLERANCE = 0.002;
/** Scale and rotation agree with what is expected within these, or three sigma where that is more; common practice, no published source. */
export const SCALE_TOLERANCE = 10e-6;
export const ROTATION_TOLERANCE_DEG: number = 5 / 3600;
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
export function impliedHeightM({ scale, pointScaleFactor }: Pick<DiagnosisInput, 'scale' | 'pointScaleFactor'>): number {
  return (scale * (pointScaleFactor ?? 1) - 1) * EARTH_RADIUS_M;
}

/**
 * What scale, rotation, shift and tilt of a site point to.
 *
 * Given: the fit and what the grid would make of it. Returned: findings, the gravest first; where the
 * control cannot be in the axes or unit it claims, that alone.
 */
export function siteDiagnosis(input: DiagnosisInput): readonly Finding[] {
  const wrong = wrongAxes(input);
  if (wrong !== null) return [wrong];
  const findings: Finding[] = [];
  const scaleTolerance = Math.max(SCALE_TOLERANCE, 3 * input.scaleSigma);
  const rotationTolerance = Math.max(ROTATION_TOLERANCE_DEG, 3 * input.rotationSigmaDeg);
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
    if (height.slopeMmPerKm > STEEP_MM_PER_KM && height.slopeMmPerKm > 3 * height.slopeSigmaMmPerKm) findings.push({ kind: 'tilt', weight: 'suspect' });
    if (Math.abs(height.offsetM) > Math.max(0.1, 3 * height.offsetSigmaM)) findings.push({ kind: 'height-shift', weight: 'note' });
  }
  const order = { error: 0, suspect: 1, note: 2 } as const;
  return findings.sort((a, b) => order[a.weight] - order[b.weight]);
}

function wrongAxes(input: DiagnosisInput): Finding | null {
  const { scale, rotationDeg, rmsM, mirroredRmsM } = input;
  if (input.scaleIsFree && [INTERNATIONAL_FOOT_M, 1 / INTERNATIONAL_FOOT_M].some((feet) => Math.abs(scale / feet - 1) < FOOT_TOLERANCE)) return { kind: 'feet', weight: 'error' };
  if (input.points >= 3 && mirroredRmsM !== null && rmsM > 1 && mirroredRmsM < rmsM / 10) return { kind: 'exchanged', weight: 'error' };
  if (Math.abs(Math.abs(rotationDeg) - 180) < 0.5) return { kind: 'reversed', weight: 'error' };
  if (Math.abs(Math.abs(rotationDeg) - 90) < 0.5) return { kind: 'quarter-turn', weight: 'suspect' };
  return null;
}

function shifted(input: DiagnosisInput): Finding {
  const shiftM = Math.hypot(input.shiftEastM, input.shiftNorthM);
  if (shiftM <= Math.max(0.02, 3 * input.shiftSigmaM)) return { kind: 'grid-itself', weight: 'note' };
  return shiftM < CHOSEN_SHIFT_M ? { kind: 'wrong-base', weight: 'suspect' } : { kind: 'subtracted', weight: 'note' };
}

function scaled(input: DiagnosisInput, isUnscaled: boolean, tolerance: number): Finding {
  const { scale, combinedFactor, pointScaleFactor } = input;
  const agrees = (factor: number | null): boolean => factor !== null && Math.abs(scale * factor - 1) <= tolerance;
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
