import type { Fix } from '../../records/points/fix.js';
import type { ReferencePoint } from '../../records/points/point.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { RoverSettings } from '../../records/session.js';

/** What the fix's position belongs to: its own word, else the session's; null when neither says. */
export function referencePointOf(fix: Fix, rover: RoverSettings): ReferencePoint | null {
  return fix.referencePoint ?? rover.referencePoint;
}

/** Length from the position's place on the pole to the tip, metres; null where the pole is unknown. */
export function poleReachM(fix: Fix, rover: RoverSettings, place: ReferencePoint): number | null {
  if (place === 'tip') return 0;
  const poleLengthM = fix.poleLengthM ?? rover.poleLengthM;
  if (poleLengthM === null) return null;
  // An offset that is needed and missing was refused before the first row.
  return place === 'apc' ? poleLengthM + (rover.phaseCentreOffsetM ?? 0) : poleLengthM;
}

/** Positions are of the phase centre, and nothing says how far above the antenna reference point that is. */
export function phaseCentreUnknown(): Problem {
  return errorProblem('config-missing', {
    message:
      'positions are of the antenna phase centre (apc) and its offset from the reference point is not stated; it goes into heights whole, some 50 to 100 mm',
    hint: "set rover.phase_centre_offset_m or --phase-centre-offset to what the antenna's calibration says; 0 says that the positions are of the reference point already",
  });
}

/**
 * What makes a fix impossible to reduce, whatever its quality: no statement of what the position
 * belongs to, no pole length, a phase centre whose offset is not stated, a tilt without azimuth or without the convention of its azimuth.
 * Null when nothing does.
 */
export function checkFix(fix: Fix, rover: RoverSettings): Problem | null {
  const place = referencePointOf(fix, rover);
  if (place === null) {
    return errorProblem('config-missing', {
      message: 'nothing says whether positions belong to the antenna phase centre, its reference point or the pole tip',
      hint: 'add a reference_point column, rover.reference_point or --reference-point apc|arp|tip',
    });
  }
  if (place === 'tip') return null;
  if (poleReachM(fix, rover, place) === null) {
    return errorProblem('pole-length-missing', {
      message: `the position is of the ${place} and no pole length is given`,
      hint: 'add a pole_length_m column, rover.pole_length_m or --pole-length',
    });
  }
  if (place === 'apc' && rover.phaseCentreOffsetM === null) return phaseCentreUnknown();
  if (fix.tiltDeg === null || fix.tiltDeg === 0) return null;
  if (fix.tiltAzimuthDeg === null) {
    return errorProblem('tilt-azimuth-missing', {
      message: `a tilt of ${fix.tiltDeg}° is given without its azimuth`,
      where: { column: 'tilt_azimuth_deg' },
      hint: 'add tilt_azimuth_deg; a lean without direction cannot be reduced',
    });
  }
  if (rover.tiltAzimuth === null) {
    return errorProblem('tilt-convention-missing', {
      message: 'a tilt occurs and nothing says whether its azimuth points to the top from the tip or the reverse',
      hint: 'set rover.tilt_azimuth to "top-from-tip" or "tip-from-top"',
    });
  }
  return null;
}
