import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { Fix } from '../../records/points/fix.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { RoverSettings } from '../../records/session.js';
import { poleReachM, referencePointOf } from './check-fix.js';

/** No pole is longer, metres. Common practice, no published source. */
export const LONGEST_POLE_M = 5;

/** No phase centre is farther from the reference point of its antenna, metres. Common practice, no published source. */
export const FARTHEST_PHASE_CENTRE_M = 0.3;

const METRES_PER_FOOT = 0.3048;

/** Lengths in metres that poles set up to; one that is too long in metres and of these in feet was typed in feet. Common practice, no published source. */
const USUAL_POLES_M = { least: 0.5, most: 3 } as const;

/** What no pole or antenna is like. */
export type PoleDoubt = 'too-long' | 'none' | 'phase-centre';

/**
 * What speaks against the height of the antenna above the tip.
 *
 * Given: a fix that `checkFix` has nothing against; the settings of the rover. Returned: a pole that is longer than any, one of no length
 * below an antenna (for positions of the mark itself the reference point is the tip; of a phase centre whose offset is stated as 0 the same is
 * said already), a phase centre farther from its reference point than that of any antenna; else null.
 */
export function poleDoubt(fix: Fix, rover: RoverSettings): PoleDoubt | null {
  const place = referencePointOf(fix, rover);
  if (place === null || place === 'tip') return null;
  const poleLengthM = fix.poleLengthM ?? rover.poleLengthM;
  if (poleLengthM === null) return null;
  if (poleLengthM > LONGEST_POLE_M) return 'too-long';
  const { phaseCentreOffsetM } = rover;
  if (place === 'apc' && phaseCentreOffsetM !== null && Math.abs(phaseCentreOffsetM) > FARTHEST_PHASE_CENTRE_M)
    return 'phase-centre';
  const saysNothing = place === 'apc' && poleReachM(fix, rover, place) === 0;
  return poleLengthM === 0 && !saysNothing ? 'none' : null;
}

/** point-pole-implausible, said once of a run. Given: the first fix in doubt and the doubt. */
export function poleWarning(fix: Fix, rover: RoverSettings, doubt: PoleDoubt): Problem {
  const { message, hint } = wordsOf(doubt, fix, rover);
  return warningProblem('point-pole-implausible', {
    message: `point ${fix.pointId}: ${message}; it is in every height, and such points are for review`,
    hint,
  });
}

function wordsOf(
  doubt: PoleDoubt,
  fix: Fix,
  rover: RoverSettings,
): { readonly message: string; readonly hint: string } {
  const metres = (value: number | null): string => (value === null ? 'not stated' : `${formatFixed(value, 3)} m`);
  if (doubt === 'phase-centre')
    return {
      message: `the phase centre is taken ${metres(rover.phaseCentreOffsetM)} above the reference point, farther than that of any antenna`,
      hint: 'set rover.phase_centre_offset_m to what the calibration of the antenna says, in metres: some 0.05 to 0.10 m',
    };
  const poleLengthM = fix.poleLengthM ?? rover.poleLengthM;
  if (doubt === 'none' || poleLengthM === null)
    return {
      message: 'the pole has no length, and the position is that of an antenna',
      hint: 'give the pole_length_m, or the reference_point tip where positions are of the mark already',
    };
  const inFeetM = poleLengthM * METRES_PER_FOOT;
  const isFeet = inFeetM >= USUAL_POLES_M.least && inFeetM <= USUAL_POLES_M.most;
  return {
    message: `the pole is ${metres(poleLengthM)} long, longer than any${isFeet ? `; taken for feet it is ${metres(inFeetM)}` : ''}`,
    hint: 'give pole_length_m in metres, from the tip to the reference point of the antenna',
  };
}
