import { RADIANS_PER_DEGREE } from '../../../../core/numeric/angle-units.js';
import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { warningProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import type { Session } from '../../../../records/session.js';
import type { ReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';

/** Below this a pole of 2 m and a compass 5° off err by less than 10 mm, degrees. */
const TILT_WORTH_ASKING_DEG = 3;

/** A compass in a pole, disturbed as they often are, degrees. Common practice, no published source. */
const DISTURBED_COMPASS_DEG = 5;

const USUAL_POLE_M = 2;

/** Said once: poles leaned, and how good their azimuths are is not stated. */
export function tiltAzimuthUnstated({ rover, given }: Session, totals: ReductionTotals): Problem | null {
  const tilt = totals.greatestTilt();
  if (tilt === null || tilt.value <= TILT_WORTH_ASKING_DEG || given.includes('rover.tilt_azimuth_sigma_deg'))
    return null;
  const lengthM = rover.poleLengthM ?? USUAL_POLE_M;
  const acrossM = (sigmaDeg: number): string =>
    `${formatFixed(1000 * lengthM * Math.sin(tilt.value * RADIANS_PER_DEGREE) * sigmaDeg * RADIANS_PER_DEGREE, 0)} mm`;
  return warningProblem('tilt-azimuth-sigma-unstated', {
    message: `the pole leans up to ${formatFixed(tilt.value, 1)}° (${tilt.pointId}) and how good its azimuths are is not stated: ${rover.tiltAzimuthSigmaDeg}° is assumed, ${acrossM(rover.tiltAzimuthSigmaDeg)} across the lean of ${formatFixed(lengthM, 2)} m there; a compass ${DISTURBED_COMPASS_DEG}° off makes it ${acrossM(DISTURBED_COMPASS_DEG)}`,
    hint: 'set rover.tilt_azimuth_sigma_deg to what the compass was checked to',
  });
}
