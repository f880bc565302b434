import type { CommandRun } from '../command-spec.js';
import { COMPLETION_SHELLS, completionScript } from '../completion.js';
import { EXIT_CODES } from '../exit-codes.js';
import { createProgram } from '../program.js';

/** Prints the completion script of the shell named. */
export const runCompletion: CommandRun = (invocation, context) => {
  const shell = COMPLETION_SHELLS.find((name) => name === invocation.args[0]);
  if (shell === undefined) {
    context.stderr.write(`pegbook: "${invocation.args[0] ?? ''}" is not one of ${COMPLETION_SHELLS.join(', ')} [usage-invalid]\n`);
    return Promise.resolve(EXIT_CODES.usage.code);
  }
  context.stdout.write(completionScript(createProgram(context, () => Promise.resolve()), shell));
  return Promise.resolve(EXIT_CODES.done.code);
};
