import type { CommandSpec } from '../../shell/command-spec.js';
import { COMPLETION_SHELLS } from '../../shell/help/completion.js';

/** `pegbook completion` */
export const completionSpec: CommandSpec = {
  name: 'completion',
  summary: 'a completion script for your shell',
  description: [
    "Prints a script that completes commands, options and file names. Load it as the shell's own guide says.",
  ],
  arguments: [{ name: '<shell>', description: 'the shell that will read it', choices: COMPLETION_SHELLS }],
  options: [],
  examples: [
    { about: 'for bash, in this session: eval "$(pegbook completion bash)"', command: 'pegbook completion bash' },
    { about: 'for PowerShell', command: 'pegbook completion powershell' },
  ],
  load: async () => (await import('./run.js')).runCompletion,
};
