import type { Command } from 'commander';
import { PROBLEM_CODES } from '../../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { Context } from '../context.js';

/**
 * Makes a command `pegbook help [WORD]`: help on the program, on a command, on a topic, or on a problem code.
 *
 * Given: the command; the program with all its others; where it writes; what prints the help of another, on a screen or in full.
 */
export function makeHelpCommand(
  help: Command,
  program: Command,
  context: Context,
  showHelp: (command: Command, isFull: boolean) => void,
): void {
  help
    .summary('print help for a command, a topic or a problem code')
    .argument('[word]', 'a command, a topic or a problem code')
    .option('--all', 'of a command: every option in full')
    .helpOption(false)
    .action((word: string | undefined, { all = false }: { readonly all?: boolean }) => {
      if (word === undefined) {
        program.outputHelp();
        return;
      }
      const command = program.commands.find((one) => one.name() === word);
      if (command !== undefined) showHelp(command, all);
      else if (Object.hasOwn(PROBLEM_CODES, word)) context.stdout.write(codeText(word as ProblemCode));
      else
        program.error(
          `error: there is no command, topic or problem code '${word}'${nearestOf(word, [...program.commands.map((one) => one.name()), ...Object.keys(PROBLEM_CODES)])}`,
        );
    });
}

function codeText(code: ProblemCode): string {
  const { exit, meaning, fix } = PROBLEM_CODES[code];
  return `${code}\n  means: ${meaning}\n  to mend: ${fix}\n  as an error it ends a run with ${String(exit)} (pegbook help exit-codes)\n`;
}

/** A hint with words that hold the one given, or that it holds. */
function nearestOf(word: string, words: readonly string[]): string {
  const parts = word.toLowerCase().split(/[^a-z0-9]+/u);
  const near = words.filter((other) => parts.some((part) => part.length > 3 && other.includes(part))).slice(0, 5);
  return near.length === 0 ? '' : `\n(Did you mean ${near.join(', ')}?)`;
}
