import { InternalError } from '../../records/internal-error.js';
import type { CommandRun } from '../command-spec.js';
import { COMPLETION_SHELLS, completionScript } from '../completion.js';
import { EXIT_CODES } from '../exit-codes.js';
import { createProgram } from '../program.js';

/** Prints the completion script of the shell named. */
export const runCompletion: CommandRun = (invocation, context) => {
  const shell = COMPLETION_SHELLS.find((name) => name === invocation.args[0]);
  if (shell === undefined) throw new InternalError('a shell that is not offered was accepted');
  context.stdout.write(completionScript(createProgram(context, () => Promise.resolve()), shell));
  return Promise.resolve(EXIT_CODES.done.code);
};
