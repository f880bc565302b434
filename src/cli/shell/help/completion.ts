import type { Command } from 'commander';
import { bashCompletion } from './completion/bash-completion.js';
import { completionModel } from './completion/completion-model.js';
import { fishCompletion } from './completion/fish-completion.js';
import { powershellCompletion } from './completion/powershell-completion.js';
import { zshCompletion } from './completion/zsh-completion.js';

/** The shells that a completion script is written for. */
export const COMPLETION_SHELLS = ['bash', 'zsh', 'fish', 'powershell'] as const;

export type CompletionShell = (typeof COMPLETION_SHELLS)[number];

/**
 * The completion script of a shell, made from the program tree: commands, options, the words an
 * option accepts, and file names where a file is wanted. Short options of PowerShell's case-blind
 * tables are not offered; they work all the same.
 */
export function completionScript(program: Command, shell: CompletionShell): string {
  const model = completionModel(program);
  switch (shell) {
    case 'bash':
      return bashCompletion(model);
    case 'zsh':
      return zshCompletion(model);
    case 'fish':
      return fishCompletion(model);
    case 'powershell':
      return powershellCompletion(model);
  }
}
