import { STANDARDS } from '../../../../core/quality/standards/standards.js';
import type { Standard } from '../../../../core/quality/standards/standards.js';
import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import type { Problem } from '../../../../records/problem.js';
import { isEstimated } from '../../reduce-points/options/held-options.js';
import { flagOption, isGiven, numberOption, textOption, textsGiven } from '../../../shell/command-spec.js';
import type { Invocation, OptionName } from '../../../shell/command-spec.js';

/** What the field procedure would leave aside without a word. */
const OTHER_CHECKS: readonly (readonly [OptionName, string])[] = [
  ['control', '--control'],
  ['design', '--design'],
  ['repeats', '--repeats'],
  ['fixes', '--fixes'],
  ['limits', '--limits'],
  ['limitHorizontal', '--limit-horizontal'],
  ['limitVertical', '--limit-vertical'],
  ['varianceFactor', '--variance-factor'],
  ['limitsFromSession', '--limits-from-session'],
  ['vectors', '--vectors'],
  ['explain', '--explain'],
];

/** What only the field procedure takes. */
const OF_PROCEDURE: readonly (readonly [OptionName, string])[] = [
  ['nominalDistance', '--nominal-distance'],
  ['nominalHeightDifference', '--nominal-height-difference'],
  ['sigmaHorizontal', '--sigma-horizontal'],
  ['sigmaVertical', '--sigma-vertical'],
  ['campaign', '--campaign'],
];

/** What a register would leave aside: it judges the days by what they say themselves, and has a table of its own. */
const NOT_OF_REGISTER: readonly (readonly [OptionName, string])[] = [
  ['standard', '--standard'],
  ...OTHER_CHECKS.filter(([name]) => name !== 'control'),
  ['junit', '--junit'],
];

/** What must, and must not, be given together. */
export function checkConflicts(invocation: Invocation, standard: Standard | null): Outcome<Standard | null> {
  const problem = askedProblem(invocation, standard) ?? pairProblem(invocation);
  if (problem !== null) return failure(problem);
  if (standard?.kind === 'nssda' && textOption(invocation, 'control') === null)
    return failure(conflict('this standard judges check points', 'add --control FILE'));
  return success(standard);
}

function conflict(message: string, hint: string): Problem {
  return errorProblem('usage-conflict', { message, hint });
}

/** Nothing to do, or nothing to do it with; and what the field procedure would leave aside. */
function askedProblem(invocation: Invocation, standard: Standard | null): Problem | null {
  const isProcedure = standard?.kind === 'iso-17123-8';
  const isClasses = standard?.kind === 'classes';
  const isRepeated = flagOption(invocation, 'repeats');
  const alone = isProcedure ? undefined : OF_PROCEDURE.find(([name]) => isGiven(invocation, name));
  if (alone !== undefined)
    return conflict(`${alone[1]} needs --standard iso-17123-8`, 'add it, or leave the option out');
  if (flagOption(invocation, 'register')) return registerProblem(invocation);
  const asked = textsGiven(invocation, ['control', 'design', 'fixes']).length > 0 || isRepeated;
  if (!asked && !isClasses && !isProcedure) {
    const own = STANDARDS.filter(({ kind }) => kind !== 'limits').map(({ id }) => id);
    return errorProblem('usage-invalid', {
      message: 'nothing is asked for',
      hint: `give --control FILE, --repeats, --design FILE, --fixes FILE, --register, or --standard ${own.join('|')}`,
    });
  }
  const other = isProcedure ? OTHER_CHECKS.find(([name]) => isGiven(invocation, name)) : undefined;
  if (other !== undefined)
    return conflict(
      `${other[1]} does not go with --standard iso-17123-8, which judges its own series and nothing else`,
      'run the other checks apart',
    );
  const needsPoints = textsGiven(invocation, ['control', 'design']).length > 0 || isRepeated || isClasses;
  return needsPoints && invocation.args.length === 0
    ? errorProblem('usage-invalid', {
        message: 'no points are named',
        hint: 'pegbook check-tolerances FILE ...; - is standard input',
      })
    : null;
}

function registerProblem(invocation: Invocation): Problem | null {
  const other = NOT_OF_REGISTER.find(([name]) => isGiven(invocation, name));
  if (other !== undefined)
    return conflict(
      `${other[1]} does not go with --register, which holds the days of control against each other and nothing else`,
      'run the other checks apart',
    );
  if (textOption(invocation, 'job') === null)
    return conflict('--register needs --job, which says what the days and their bases are', 'add --job FILE');
  if (textOption(invocation, 'control') === null)
    return conflict('--register needs control', 'add --control FILE, or control to [files] of the job');
  return invocation.args.length > 0
    ? null
    : errorProblem('usage-invalid', {
        message: 'no points are named',
        hint: 'pegbook check-tolerances FILE --job JOB --register; - is standard input',
      });
}

/** An option that another must stand beside. */
function pairProblem(invocation: Invocation): Problem | null {
  const isRepeated = flagOption(invocation, 'repeats');
  const samePlace = numberOption(invocation, 'samePlace');
  if (flagOption(invocation, 'line') && textOption(invocation, 'design') === null)
    return conflict('--line needs --design', 'add --design FILE');
  for (const kind of ['control', 'design'] as const) {
    if (isGiven(invocation, `${kind}Columns`) && textOption(invocation, kind) === null)
      return conflict(`--${kind}-columns needs --${kind}`, `add --${kind} FILE`);
  }
  if (isEstimated(invocation) && textOption(invocation, 'control') === null && !isRepeated)
    return conflict(
      '--variance-factor estimated rests on repeats and control, and neither is asked for',
      'add --repeats, --control FILE or both',
    );
  if (samePlace !== null && !isRepeated) return conflict('--same-place needs --repeats', 'add --repeats');
  if (numberOption(invocation, 'vectorScale') !== null && textOption(invocation, 'vectors') === null)
    return conflict('--vector-scale needs --vectors', 'add --vectors FILE');
  if (samePlace === null || samePlace > 0) return null;
  return errorProblem('usage-invalid', {
    message: '--same-place must be more than 0 metres',
    received: String(samePlace),
  });
}
