import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { motionName } from './point-motion.js';
import type { MotionBy } from './point-motion.js';

/** grid-outside: a place that a grid of velocities does not cover. */
export function outsideVelocities(by: MotionBy): Problem {
  return errorProblem('grid-outside', {
    message: `the place is outside the ${motionName(by)}, or at a node without a velocity`,
    hint: 'use a grid that covers the place, or name its plate; nothing is put in its stead',
  });
}
