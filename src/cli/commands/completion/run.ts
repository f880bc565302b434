import { InternalError } from '../../../records/internal-error.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { COMPLETION_SHELLS, completionScript } from '../../shell/help/completion.js';
import { EXIT_CODES } from '../../shell/exit-codes.js';
import { createProgram } from '../../shell/program.js';

/** Prints the completion script of the shell named. */
export const runCompletion: CommandRun = (invocation, context) => {
  const shell = COMPLETION_SHELLS.find((name) => name === invocation.args[0]);
  if (shell === undefined) throw new InternalError('a shell that is not offered was accepted');
  context.stdout.write(
    completionScript(
      createProgram(context, () => Promise.resolve()),
      shell,
    ),
  );
  return Promise.resolve(EXIT_CODES.done.code);
};
