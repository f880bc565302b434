import { STANDARDS } from '../../../core/quality/standards/standards.js';
import type { Standard } from '../../../core/quality/standards/standards.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { flagOption, isGiven, numberOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { Invocation, OptionName } from '../../shell/command-spec.js';

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
];

/** What must, and must not, be given together. */
export function checkConflicts(invocation: Invocation, standard: Standard | null): Outcome<Standard | null> {
  const asked = textsGiven(invocation, ['control', 'design', 'fixes']).length > 0 || flagOption(invocation, 'repeats');
  const usage = (message: string, hint: string): Outcome<Standard | null> =>
    failure(errorProblem('usage-conflict', { message, hint }));
  if (!asked && standard?.kind !== 'classes' && standard?.kind !== 'iso-17123-8') {
    return failure(
      errorProblem('usage-invalid', {
        message: 'nothing is asked for',
        hint: `give --control FILE, --repeats, --design FILE, --fixes FILE, or --standard ${STANDARDS.filter(
          ({ kind }) => kind !== 'limits',
        )
          .map(({ id }) => id)
          .join('|')}`,
      }),
    );
  }
  const other = standard?.kind === 'iso-17123-8' ? OTHER_CHECKS.find(([name]) => isGiven(invocation, name)) : undefined;
  if (other !== undefined)
    return usage(
      `${other[1]} does not go with --standard iso-17123-8, which judges its own series and nothing else`,
      'run the other checks apart',
    );
  const needsPoints =
    textsGiven(invocation, ['control', 'design']).length > 0 ||
    flagOption(invocation, 'repeats') ||
    standard?.kind === 'classes';
  if (needsPoints && invocation.args.length === 0)
    return failure(
      errorProblem('usage-invalid', {
        message: 'no points are named',
        hint: 'pegbook check-tolerances FILE ...; - is standard input',
      }),
    );
  if (flagOption(invocation, 'line') && textOption(invocation, 'design') === null)
    return usage('--line needs --design', 'add --design FILE');
  for (const kind of ['control', 'design'] as const) {
    if (isGiven(invocation, `${kind}Columns`) && textOption(invocation, kind) === null)
      return usage(`--${kind}-columns needs --${kind}`, `add --${kind} FILE`);
  }
  if (
    textOption(invocation, 'varianceFactor') === 'estimated' &&
    textOption(invocation, 'control') === null &&
    !flagOption(invocation, 'repeats')
  )
    return usage(
      '--variance-factor estimated rests on repeats and control, and neither is asked for',
      'add --repeats, --control FILE or both',
    );
  if (numberOption(invocation, 'samePlace') !== null && !flagOption(invocation, 'repeats'))
    return usage('--same-place needs --repeats', 'add --repeats');
  if (numberOption(invocation, 'vectorScale') !== null && textOption(invocation, 'vectors') === null)
    return usage('--vector-scale needs --vectors', 'add --vectors FILE');
  const samePlace = numberOption(invocation, 'samePlace');
  if (samePlace !== null && !(samePlace > 0))
    return failure(
      errorProblem('usage-invalid', {
        message: '--same-place must be more than 0 metres',
        received: String(samePlace),
      }),
    );
  if (standard?.kind === 'nssda' && textOption(invocation, 'control') === null)
    return usage('this standard judges check points', 'add --control FILE');
  return success(standard);
}
