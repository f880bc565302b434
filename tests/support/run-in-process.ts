import { Readable, Writable } from 'node:stream';
import { main } from '../../src/cli/main.js';

/** What a run in this process may see of the outside world. */
export interface RunOptions {
  /** The folder that relative paths start from. */
  readonly cwd: string;
  /** Bytes on standard input; none when absent. */
  readonly stdin?: Buffer | string;
  /** The whole environment of the run; nothing is inherited. */
  readonly env?: Readonly<Record<string, string>>;
  /** True where standard input should look like a terminal. */
  readonly stdinIsTTY?: boolean;
}

/** How a run ended, and every byte that it wrote. */
export interface RunResult {
  readonly exit: number;
  readonly stdout: Buffer;
  readonly stderr: string;
}

/** The words after `pegbook`; the first two of a real argv are put in front of them. */
export async function runInProcess(argv: readonly string[], options: RunOptions): Promise<RunResult> {
  const stdout = collector();
  const stderr = collector();
  const stdin = Readable.from(options.stdin === undefined ? [] : [Buffer.from(options.stdin)], { objectMode: false });
  const exit = await main({
    argv: ['node', 'pegbook', ...argv],
    stdin: Object.assign(stdin, { isTTY: options.stdinIsTTY ?? false }),
    stdout: stdout.stream,
    stderr: stderr.stream,
    env: options.env ?? {},
    cwd: () => options.cwd,
  });
  return { exit, stdout: stdout.bytes(), stderr: stderr.bytes().toString('utf8') };
}

function collector(): { stream: Writable; bytes: () => Buffer } {
  const chunks: Buffer[] = [];
  const stream = new Writable({
    write(chunk: Buffer | string, _encoding, done): void {
      chunks.push(Buffer.from(chunk));
      done();
    },
  });
  return { stream, bytes: () => Buffer.concat(chunks) };
}
