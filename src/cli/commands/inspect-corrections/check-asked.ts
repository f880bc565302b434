import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { flagOf, isGiven } from '../../shell/command-spec.js';
import type { Invocation, OptionName } from '../../shell/command-spec.js';

/** Options that say nothing without fixes, and those that say nothing without streams. */
export const OF_FIXES: readonly OptionName[] = ['outages', 'availability', 'rejects'];
const OF_STREAMS: readonly OptionName[] = ['date', 'hours', 'broadcastTolerance'];

/** Fixes are named, or a job that names them. Problems: usage-invalid where there is nothing to look at; usage-conflict for an option that would be ignored. */
export function checkAsked(invocation: Invocation): Outcome<null> {
  const hasFixes = isGiven(invocation, 'fixes') || isGiven(invocation, 'job');
  const hasStreams = invocation.args.length > 0;
  if (!hasStreams && !hasFixes)
    return failure(
      errorProblem('usage-invalid', {
        message: 'no stream and no fixes are named',
        hint: 'name the recordings, or - for standard input, and fixes with --fixes or in a job with --job',
      }),
    );
  const ofFixes = hasFixes ? undefined : OF_FIXES.find((name) => isGiven(invocation, name));
  if (ofFixes !== undefined)
    return idle(`${flagOf(ofFixes)} is of fixes, and none are named`, 'add --fixes FILE, or leave it out');
  const ofStreams = hasStreams ? undefined : OF_STREAMS.find((name) => isGiven(invocation, name));
  if (ofStreams !== undefined)
    return idle(`${flagOf(ofStreams)} is of streams, and none are named`, 'name the recordings, or leave it out');
  const hasBases = (['session', 'job'] as const).some((name) => isGiven(invocation, name));
  if (isGiven(invocation, 'broadcastTolerance') && !hasBases)
    return idle('--broadcast-tolerance is of a session, and none is named', 'add --session FILE, or leave it out');
  return success(null);
}

function idle(message: string, hint: string): Outcome<null> {
  return failure(errorProblem('usage-conflict', { message, hint }));
}
