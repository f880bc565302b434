import { draftFiles } from '../../../files/draft/draft-files.js';
import type { DraftedFiles } from '../../../files/draft/draft-files.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { textOption } from '../../shell/command-spec.js';
import type { CommandRun, Invocation } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import { answersAsked } from './answers-asked.js';
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
      const answers = bench.take(answersAsked(invocation));
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
