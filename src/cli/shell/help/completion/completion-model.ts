import { PROBLEM_CODES } from '../../../../records/codes/problem-codes.js';
import type { Argument, Command, Option } from 'commander';
import { entryAt } from '../../../../records/present.js';

/** How a value is completed: from a list, from file names, or not at all. */
export type ValueModel =
  { readonly kind: 'words'; readonly words: readonly string[] } | { readonly kind: 'file' } | { readonly kind: 'free' };

export interface OptionModel {
  /** Without its two dashes. */
  readonly long: string;
  /** Without its dash; null when there is none. */
  readonly short: string | null;
  readonly description: string;
  /** Null for a flag. */
  readonly value: ValueModel | null;
}

export interface CommandModel {
  readonly name: string;
  readonly description: string;
  readonly options: readonly OptionModel[];
  /** The positional argument; null when the command takes none. */
  readonly argument: ValueModel | null;
}

/** What a completion script needs to know: plain words, taken from the program tree. */
export interface CompletionModel {
  readonly program: string;
  readonly options: readonly OptionModel[];
  readonly commands: readonly CommandModel[];
}

/**
 * Reads the program tree. Hidden commands and options stay hidden, except that help topics, which
 * are hidden commands, are offered after `help`. Nothing is written down twice: a new option is
 * completed as soon as it exists.
 */
export function completionModel(program: Command): CompletionModel {
  const visible = program
    .createHelp()
    .visibleCommands(program)
    .filter((command) => command.name() !== 'help');
  const names = program.commands.map((command) => command.name()).filter((name) => name !== 'help');
  const help: CommandModel = {
    name: 'help',
    description: 'print help for a command, a topic or a problem code',
    options: [],
    argument: { kind: 'words', words: [...names, ...Object.keys(PROBLEM_CODES)] },
  };
  return {
    program: program.name(),
    options: optionsOf(program),
    commands: [...visible.map(commandModel), help],
  };
}

function commandModel(command: Command): CommandModel {
  const [argument] = command.registeredArguments;
  return {
    name: command.name(),
    description: command.summary() || entryAt(command.description().split('\n'), 0),
    options: optionsOf(command),
    argument: argument === undefined ? null : valueOf(argument),
  };
}

function optionsOf(command: Command): readonly OptionModel[] {
  return command
    .createHelp()
    .visibleOptions(command)
    .flatMap((option) => optionModel(option) ?? []);
}

function optionModel(option: Option): OptionModel | null {
  if (option.long === undefined) return null;
  return {
    long: option.long.slice(2),
    short: option.short === undefined ? null : option.short.slice(1),
    description: option.description,
    value: option.required || option.optional ? valueOf(option) : null,
  };
}

/** A file is what a placeholder calls a file, and a positional argument unless it lists its words. */
function valueOf(source: Option | Argument): ValueModel {
  if (source.argChoices !== undefined) return { kind: 'words', words: source.argChoices };
  if ('suggests' in source && Array.isArray(source.suggests))
    return { kind: 'words', words: source.suggests as readonly string[] };
  if ('flags' in source) return /[<[][^<>[\]]*file/i.test(source.flags) ? { kind: 'file' } : { kind: 'free' };
  return /^(?:code|system|id|shell|topic)/.test(source.name()) ? { kind: 'free' } : { kind: 'file' };
}
