import type { Context } from './context.js';

/** An option's value as given: text, a flag, a list; numbers are parsed by the option itself. */
export type OptionValue = string | number | boolean | readonly string[] | undefined;

export interface OptionSpec {
  /** As commander writes them: `-o, --output <file>`. */
  readonly flags: string;
  readonly description: string;
  /** How the text is read; `text` when absent. */
  readonly kind?: 'text' | 'number' | 'count' | 'flag' | 'list';
  readonly choices?: readonly string[];
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
  readonly options: Readonly<Record<string, OptionValue>>;
}

/** Runs the command; returns the exit code. */
export type CommandRun = (invocation: Invocation, context: Context) => Promise<number>;

/** A text option, or null when not given. */
export function textOption(invocation: Invocation, name: string): string | null {
  const value = invocation.options[name];
  return typeof value === 'string' ? value : null;
}

/** A number option, or null when not given. */
export function numberOption(invocation: Invocation, name: string): number | null {
  const value = invocation.options[name];
  return typeof value === 'number' ? value : null;
}

/** A flag: true when given (for `--no-x` options: false when given). */
export function flagOption(invocation: Invocation, name: string): boolean {
  return invocation.options[name] === true;
}
