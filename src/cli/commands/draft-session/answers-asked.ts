import { settingValue } from '../../../io/settings/setting-value.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { NONE } from '../../../tasks/draft/draft-line.js';
import type { Answers, DraftValue } from '../../../tasks/draft/draft-line.js';
import { listOption } from '../../shell/command-spec.js';
import type { Invocation } from '../../shell/command-spec.js';

/** The answers of --answer. Problems: usage-invalid, usage-conflict; those of a value. */
export function answersAsked(invocation: Invocation): Outcome<Answers> {
  const answers = new Map<string, DraftValue>();
  for (const text of listOption(invocation, 'answer')) {
    const at = text.indexOf('=');
    const key = text.slice(0, Math.max(0, at)).trim();
    const said = text.slice(at + 1).trim();
    // A section by itself can only be taken away.
    const isKey = /^[a-z_]+\.\S/u.test(key) || (/^[a-z_]+$/u.test(key) && said === NONE);
    if (!isKey || said === '')
      return failure(
        errorProblem('usage-invalid', {
          message: `--answer ${text} is not KEY=VALUE`,
          received: text,
          hint: 'for example --answer system.grid=EPSG:32734',
        }),
      );
    if (answers.has(key))
      return failure(
        errorProblem('usage-conflict', {
          message: `--answer says ${key} twice`,
          received: text,
          hint: 'keep one of the two',
        }),
      );
    const value = settingValue(said, '--answer');
    if (!value.ok) return value;
    answers.set(key, value.value);
  }
  return success(answers);
}
