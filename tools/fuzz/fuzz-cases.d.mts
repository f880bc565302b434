import type { CommandSpec } from '../../src/cli/shell/command-spec.js';
import type { ProcessLike } from '../../src/cli/shell/context.js';

/** Names of the kinds that these commands can read, and `options` for command lines. */
export function kindNames(commands: readonly CommandSpec[]): readonly string[];

/** Puts the sound files of every case into a folder. */
export function prepareFolder(folder: string): void;

/** Runs one case in a prepared folder; `fault` says what is wrong with how it ended, or is null. */
export function runCase(
  main: (process: ProcessLike) => Promise<number>,
  kindName: string,
  seed: number,
  folder: string,
  commands: readonly CommandSpec[],
  onFile?: (name: string, bytes: Uint8Array) => void,
): Promise<{
  readonly exit: number;
  readonly argv: readonly string[];
  readonly fault: string | null;
  readonly stdout: string;
  readonly stderr: string;
}>;

/** The sound input of a kind: the words that read it. */
export function soundArgv(kindName: string): readonly string[];
