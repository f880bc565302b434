import type { Readable, Writable } from 'node:stream';

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
