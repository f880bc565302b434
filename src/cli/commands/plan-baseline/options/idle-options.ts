import { failure, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import { flagOf, isGiven, numberOption, textOption } from '../../../shell/command-spec.js';
import type { Invocation, OptionName, TextOption } from '../../../shell/command-spec.js';
import { badOption } from './plan-settings.js';

/** Options that say nothing without another one, by their camel-case names. */
const DEPENDENT: readonly (readonly [needed: TextOption, dependents: readonly OptionName[]])[] = [
  ['timetable', ['speed', 'days', 'detour', 'setupMinutes', 'overheadMinutes', 'control', 'skyWindows']],
  ['stream', ['satellites', 'rate']],
];

/** Problem: usage-conflict for an option that would be ignored; usage-invalid for hours that cannot be. */
export function checkPlanOptions(invocation: Invocation): Outcome<null> {
  const hours = numberOption(invocation, 'hours');
  if (hours !== null && !(hours > 0 && hours <= 8784))
    return badOption('--hours', String(hours), 'above 0 and at most 8784');
  for (const [needed, dependents] of DEPENDENT) {
    if (textOption(invocation, needed) !== null) continue;
    const idle = dependents.find((name) => isGiven(invocation, name));
    if (idle !== undefined)
      return failure(
        errorProblem('usage-conflict', {
          message: `${flagOf(idle)} needs --${needed}`,
          hint: `give --${needed}, or leave it out`,
        }),
      );
  }
  const streams = [textOption(invocation, 'stream'), textOption(invocation, 'streamFrom')].filter(
    (own) => own !== null,
  );
  if (streams.length === 2)
    return failure(
      errorProblem('usage-conflict', {
        message: '--stream and --stream-from both say what the stream is',
        hint: 'leave one of them out',
      }),
    );
  if (streams.length === 0 && isGiven(invocation, 'rovers'))
    return failure(
      errorProblem('usage-conflict', {
        message: '--rovers needs --stream',
        hint: 'give --stream or --stream-from, or leave it out',
      }),
    );
  return success(null);
}
