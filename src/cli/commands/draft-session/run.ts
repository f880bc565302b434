import { draftFiles } from '../../../files/draft/draft-files.js';
import type { DraftedFiles } from '../../../files/draft/draft-files.js';
import { settingValue } from '../../../io/settings/setting-value.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { NONE } from '../../../tasks/draft/draft-line.js';
import type { Answers, DraftValue } from '../../../tasks/draft/draft-line.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { listOption, textOption } from '../../shell/command-spec.js';
import type { CommandRun, Invocation } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import { draftJson, nextLines } from './draft-say.js';

/** Drafts a session from files of fixes; see `draftSessionSpec`. */
export const runDraftSession: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const inputs = inputPaths(invocation.args, context.cwd);
  return withWorkbench(
    invocation,
    context,
    inputs,
    async (bench) => {
      const answers = bench.take(answersOf(invocation));
      bench.take(formatProblem(invocation));
      const drafted = bench.take(await draftFiles(invocation.args, textOption(invocation, 'input'), answers, context));
      const output = textOption(invocation, 'output') ?? '-';
      const sink = await bench.open(output);
      await sink.write(textOption(invocation, 'format') === 'json' ? draftJson(drafted) : drafted.text);
      for (const line of nextLines(drafted, invocation.args, output)) bench.diagnostics.say(line);
      return endWith(rowsAnswer(countOf(drafted), 0), invocation, log);
    },
    log.failure,
  );
};

/** Settings that are in force or asked. */
function countOf({ draft }: DraftedFiles): number {
  return draft.lines.filter(({ isOffered }) => isOffered !== true).length;
}

/** usage-conflict for a format that a session has not. */
function formatProblem(invocation: Invocation): Outcome<null> {
  const format = textOption(invocation, 'format');
  return format === null || format === 'json'
    ? success(null)
    : failure(
        errorProblem('usage-conflict', {
          message: `a session is written as TOML, not as ${format}`,
          hint: 'leave --format out, or take --format json for its lines',
        }),
      );
}

function answersOf(invocation: Invocation): Outcome<Answers> {
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
