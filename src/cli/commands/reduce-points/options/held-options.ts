import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { HeldQuestions } from '../../../../tasks/join/held-points.js';
import { flagOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation } from '../../../shell/command-spec.js';

/** What is done once all points are known; where either is asked for, points are held until then. */
export type HeldOptions = HeldQuestions;

/** Whether the covariances are to hold the variance factor of the day. */
export function isEstimated(invocation: Invocation): boolean {
  return textOption(invocation, 'varianceFactor') === 'estimated';
}

/** The two options. Problems: usage-conflict with --explain, which shows an occupation by itself. */
export function heldOptions(invocation: Invocation): Outcome<HeldOptions> {
  const asked = {
    isCombined: flagOption(invocation, 'combine'),
    isEstimated: isEstimated(invocation),
    // Pairs are shown by the page only.
    isPaired: textOption(invocation, 'report') !== null,
  };
  if (!asked.isEstimated || textOption(invocation, 'explain') === null) return success(asked);
  return failure(
    errorProblem('usage-conflict', {
      message: '--explain shows a point as it is reduced by itself, before --variance-factor estimated knows the day',
      hint: 'leave one of the two out',
    }),
  );
}
