import type { Readable, Writable } from 'node:stream';
import type { FileState } from '../../io/bytes/digest-file.js';
import type { WrittenFile } from '../../io/bytes/output/sink-group.js';
import type { Problem } from '../../records/problem.js';

/** The part of `process` that Pegbook uses; tests hand in their own. */
export interface ProcessLike {
  readonly argv: readonly string[];
  readonly stdin: Readable & { readonly isTTY?: boolean };
  readonly stdout: Writable & { readonly isTTY?: boolean };
  readonly stderr: Writable & { readonly isTTY?: boolean; readonly columns?: number };
  readonly env: Readonly<Record<string, string | undefined>>;
  cwd(): string;
  on?(event: 'SIGINT' | 'SIGTERM', listener: () => void): unknown;
  off?(event: 'SIGINT' | 'SIGTERM', listener: () => void): unknown;
}

/** What a run knows of itself where it is an entry of a manifest. */
export interface EntryOfRun {
  /** Whether an output may take the place of a file, by its real path: it holds the same, or what the entry wrote last. `next`: what was written; null: nothing yet. */
  readonly mayReplace: (path: string, next: FileState | null) => Promise<boolean>;
  /** The same of the record and the file of problems, of which there is an older one where the entry was run before. */
  readonly mayReplaceMessages: (path: string) => Promise<boolean>;
  /** The text of the record with what it says as that of an entry: the outputs written, or the error that stopped it. */
  readonly told: (record: string, written: readonly WrittenFile[], problem: Problem | null) => Promise<string>;
}

/** What a command may touch besides its options. Nothing else of the outside world reaches it. */
export interface Context {
  readonly argv: readonly string[];
  readonly stdin: ProcessLike['stdin'];
  readonly stdout: ProcessLike['stdout'];
  readonly stderr: ProcessLike['stderr'];
  readonly env: ProcessLike['env'];
  readonly cwd: string;
  /** Aborted by SIGINT or SIGTERM; a command then leaves no output behind. */
  readonly signal: AbortSignal;
  /** Absent: the run is no entry of a manifest. */
  readonly entry?: EntryOfRun;
}

/** The context of one run. */
export function contextOf(process: ProcessLike, signal: AbortSignal): Context {
  return {
    argv: process.argv.slice(2),
    stdin: process.stdin,
    stdout: process.stdout,
    stderr: process.stderr,
    env: process.env,
    cwd: process.cwd(),
    signal,
  };
}
