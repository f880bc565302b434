import { CommanderError } from 'commander';
import type { CommandSpec, Invocation } from './shell/command-spec.js';
import { asksForManifest } from './manifest/asks-for-manifest.js';
import { contextOf } from './shell/context.js';
import type { Context, ProcessLike } from './shell/context.js';
import { EXIT_CODES } from './shell/exit-codes.js';
import { createProgram } from './shell/program.js';

/**
 * Runs one command line and returns its exit code. Never throws, never calls `process.exit`.
 * The first signal ends the run in good order, also while it waits for standard input; a second one has the system's
 * own effect. A closed pipe on standard output ends it quietly with 0; whatever a
 * library prints through `console` goes to standard error, so that data stay clean.
 */
export async function main(process: ProcessLike): Promise<number> {
  const abort = new AbortController();
  let isOver = false;
  const onSignal = (): void => {
    if (!isOver) {
      abort.abort();
      process.stdin.destroy();
    }
    process.off?.('SIGINT', onSignal);
    process.off?.('SIGTERM', onSignal);
  };
  process.on?.('SIGINT', onSignal);
  process.on?.('SIGTERM', onSignal);
  const restoreConsole = consoleTo(process.stderr);
  let pipeClosed = false;
  const onPipe = (error: NodeJS.ErrnoException): void => {
    if (error.code === 'EPIPE') pipeClosed = true;
    abort.abort();
  };
  // Messages that nobody reads any more are no reason to stop.
  const ignore = (): void => undefined;
  process.stdout.on('error', onPipe);
  process.stderr.on('error', ignore);
  try {
    const context = contextWhere(process, abort.signal);
    if (context === null) return nowhere(process);
    const code = await runProgram(context);
    await Promise.all([written(process.stdout), written(process.stderr)]);
    return pipeClosed ? EXIT_CODES.done.code : code;
  } catch (error) {
    await written(process.stdout);
    if (pipeClosed) return EXIT_CODES.done.code;
    if (abort.signal.aborted) return interrupted(process);
    return internal(process, error);
  } finally {
    process.stdout.off('error', onPipe);
    process.stderr.off('error', ignore);
    restoreConsole();
    // The listeners stay: a signal while the process winds down must not turn what is done into an interruption.
    isOver = true;
  }
}

/** Settles when what was written has left or failed, and the failure has met our listener. */
function written(stream: ProcessLike['stdout']): Promise<void> {
  return new Promise((resolve) => {
    // The error of a write that failed at once is still to be emitted when nothing waits any more.
    if (stream.writableLength === 0) setImmediate(resolve);
    else stream.write('', () => setImmediate(resolve));
  });
}

async function runProgram(context: Context): Promise<number> {
  let exit: number = EXIT_CODES.done.code;
  const dispatch = async (spec: CommandSpec, invocation: Invocation): Promise<void> => {
    if (asksForManifest(invocation)) {
      const { runManifest } = await import('./manifest/run-manifest.js');
      exit = await runManifest(spec, invocation, context);
      return;
    }
    const run = await spec.load();
    exit = await run(invocation, context);
  };
  // Without a word there is no first one.
  const program = createProgram(context, dispatch, context.argv[0] ?? null);
  if (context.argv.length === 0) {
    context.stderr.write(program.helpInformation());
    return EXIT_CODES.usage.code;
  }
  try {
    await program.parseAsync([...context.argv], { from: 'user' });
  } catch (error) {
    if (error instanceof CommanderError) return error.exitCode === 0 ? EXIT_CODES.done.code : EXIT_CODES.usage.code;
    throw error;
  }
  return exit;
}

/** The context of a run; null where the folder it was started in is no more. */
function contextWhere(process: ProcessLike, signal: AbortSignal): Context | null {
  try {
    return contextOf(process, signal);
  } catch (error) {
    if (error instanceof Error && 'code' in error && error.code === 'ENOENT') return null;
    throw error;
  }
}

function nowhere(process: ProcessLike): number {
  process.stderr.write(
    'pegbook: the folder this was started in no longer exists [file-not-found]\n    change to one that does\n',
  );
  return EXIT_CODES.file.code;
}

function interrupted(process: ProcessLike): number {
  process.stderr.write('pegbook: interrupted; no output was committed [interrupted]\n');
  return EXIT_CODES.interrupted.code;
}

function internal(process: ProcessLike, error: unknown): number {
  const text = error instanceof Error ? (error.stack ?? error.message) : String(error);
  process.stderr.write(
    `pegbook: internal error, please report it with the command and its input [internal-error]\n${text}\n`,
  );
  return EXIT_CODES.internal.code;
}

function consoleTo(stream: ProcessLike['stderr']): () => void {
  const saved = {
    log: console.log,
    info: console.info,
    warn: console.warn,
    error: console.error,
    debug: console.debug,
  };
  const write = (...words: unknown[]): void => {
    stream.write(`${words.map(String).join(' ')}\n`);
  };
  Object.assign(console, { log: write, info: write, warn: write, error: write, debug: write });
  return () => {
    Object.assign(console, saved);
  };
}
