import { SMALLEST_SPREAD_RATIO } from '../../../core/adjustment/control-spread.js';
import type { ControlSpread } from '../../../core/adjustment/control-spread.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { errorProblem, warningProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';

/** The error for control too close to one line to hold a fit; null where it is not, and for fewer than 3 points. */
export function poorSpread(spread: ControlSpread, count: number, what: string): Problem | null {
  if (count < 3 || spread.eigenvalueRatio >= SMALLEST_SPREAD_RATIO) return null;
  return errorProblem('site-poor-spread', {
    message: `${what} lies close to one line: the smaller eigenvalue of its scatter is ${formatFixed(spread.eigenvalueRatio, 3)} of the larger, and should be ${SMALLEST_SPREAD_RATIO} or more`,
    hint: 'observe control to both sides; --allow-poor-spread goes on all the same, and what is beside the line is then badly held',
  });
}

/** The error for control that does not determine the fit. */
export function tooFew(what: string, hint: string): Problem {
  return errorProblem('site-too-few-control', { message: what, hint });
}

/** The warning for a fit that too little control checks. */
export function unchecked(message: string): Problem {
  return warningProblem('site-unchecked', { message, hint: 'observe more control' });
}
