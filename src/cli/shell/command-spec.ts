import type { Context } from './context.js';
import type { OptionValues } from './option-values.js';

/** An option's value as given: text, a flag, a list; numbers are parsed by the option itself. */
export type OptionValue = string | number | boolean | readonly string[] | undefined;

export interface OptionSpec {
  /** As commander writes them: `-o, --output <file>`. */
  readonly flags: string;
  readonly description: string;
  /** It names a file that the run writes. */
  readonly isWritten?: true;
  /** How the text is read; `text` when absent. */
  readonly kind?: 'text' | 'number' | 'count' | 'flag' | 'list';
  readonly choices?: readonly string[];
  /** Values that completion offers beside others that may be given. */
  readonly suggests?: readonly string[];
  readonly defaultText?: string;
  /** Heading in help; the command's own options have none. */
  readonly group?: string;
}

export interface CommandExample {
  /** One runnable line, beginning with `pegbook`. */
  readonly command: string;
  readonly about: string;
  /** Expected exit code when it is not 0. */
  readonly exit?: number;
  /** The first lines it prints, shown in help. */
  readonly output?: readonly string[];
}

export interface ArgumentSpec {
  /** `<points>`, `[fixes...]` */
  readonly name: string;
  readonly description: string;
  readonly choices?: readonly string[];
}

/** A command: what it is called with, two examples at least, and what runs. */
export interface CommandSpec {
  readonly name: string;
  readonly summary: string;
  /** A few sentences under the usage line. */
  readonly description: readonly string[];
  readonly arguments: readonly ArgumentSpec[];
  readonly options: readonly OptionSpec[];
  readonly examples: readonly CommandExample[];
  readonly cautions?: readonly string[];
  /** Loaded only when the command runs, so that start-up stays short. */
  readonly load: () => Promise<CommandRun>;
}

/** What was typed: positional arguments, options by camel-case name, and which were given. */
export interface Invocation {
  readonly args: readonly string[];
  readonly options: Readonly<Partial<Record<OptionName, OptionValue>>>;
}

/** Name of an option that some command has, in camel case. */
export type OptionName = keyof OptionValues;
/** Names of the options that hold a value of a kind. */
type NamesOf<Kind> = {
  [Name in OptionName]: Extract<OptionValues[Name], Kind> extends never ? never : Name;
}[OptionName];
export type TextOption = NamesOf<string>;
export type NumberOption = NamesOf<number>;
export type FlagOption = NamesOf<boolean>;
export type ListOption = NamesOf<readonly string[]>;

/** Runs the command; returns the exit code. */
export type CommandRun = (invocation: Invocation, context: Context) => Promise<number>;

/** A text option, or null when not given. */
export function textOption<Name extends TextOption>(
  { options }: Invocation,
  name: Name,
): Extract<OptionValues[Name], string> | null {
  const value: OptionValue = options[name];
  return typeof value === 'string' ? (value as Extract<OptionValues[Name], string>) : null;
}

/** A number option, or null when not given. */
export function numberOption({ options }: Invocation, name: NumberOption): number | null {
  const value: OptionValue = options[name];
  return typeof value === 'number' ? value : null;
}

/** A flag: true when given (for `--no-x` options: false when given). */
export function flagOption({ options }: Invocation, name: FlagOption): boolean {
  return options[name] === true;
}

/** A list option: all that were given, in their order; empty when none was. */
export function listOption({ options }: Invocation, name: ListOption): readonly string[] {
  const value: OptionValue = options[name];
  return Array.isArray(value) ? (value as readonly string[]) : [];
}

/** Whether an option was given; a flag that is not set was not. */
export function isGiven({ options }: Invocation, name: OptionName): boolean {
  return options[name] !== undefined && options[name] !== false;
}

/** The texts of those options that were given, such as the names of files. */
export function textsGiven(invocation: Invocation, names: readonly TextOption[]): readonly string[] {
  return names.flatMap((name) => textOption(invocation, name) ?? []);
}

/** An option as it is typed, from its camel-case name. */
export function flagOf(name: string): string {
  return `--${name.replace(/[A-Z]/gu, (letter) => `-${letter.toLowerCase()}`)}`;
}
