import { tmpdir } from 'node:os';
import { extname } from 'node:path';
import { createSinkGroup } from '../io/sink-group.js';
import type { SinkGroup } from '../io/sink-group.js';
import type { Sink } from '../io/sink.js';
import type { Outcome } from '../records/outcome.js';
import type { Problem } from '../records/problem.js';
import { colourFor } from './colour.js';
import { flagOption, textOption } from './command-spec.js';
import type { Invocation } from './command-spec.js';
import type { Context } from './context.js';
import { createDiagnostics } from './diagnostics.js';
import type { Diagnostics } from './diagnostics.js';
import { EXIT_CODES, exitCodeFor } from './exit-codes.js';
import { createMemoryGuard } from './memory-guard.js';
import { createProgress } from './progress.js';
import type { Progress } from './progress.js';
import { InterruptedError, StopError, unwrap } from './stop.js';

export type OutputFormat = 'csv' | 'geojson' | 'json';

/** What every command works with: messages, outputs that appear together, the ways to stop. */
export interface Workbench {
  readonly context: Context;
  readonly invocation: Invocation;
  readonly diagnostics: Diagnostics;
  readonly progress: Progress;
  /** From --format, else the extension of --output, else csv. */
  readonly format: OutputFormat;
  /** Opens an output that appears only if the run succeeds. Problems stop the run. */
  readonly open: (pathOrDash: string) => Promise<Sink>;
  /** The value, or the end of the run. Warnings are reported. */
  readonly take: <T>(outcome: Outcome<T>) => T;
  /** Stops the run if a signal came, or memory runs out. */
  readonly breathe: () => void;
}

/** What a run leaves for its record. */
export interface RunEnd {
  readonly exit: number;
  /** The run record as text, given the final counts; null when none was asked for. */
  readonly record: ((exit: number, diagnostics: Diagnostics) => string) | null;
}

/**
 * Runs a command's body with its outputs and messages, and ends it: outputs are committed on
 * success and removed on errors and signals. The files of --problems and --record tell of failures
 * too, so they are written in both cases.
 */
export async function withWorkbench(
  invocation: Invocation,
  context: Context,
  inputs: readonly string[],
  body: (bench: Workbench) => Promise<RunEnd>,
  failureRecord: ((exit: number, diagnostics: Diagnostics) => string) | null = null,
): Promise<number> {
  const sinkOptions = { cwd: context.cwd, stdout: context.stdout, tempDir: tmpdir(), force: flagOption(invocation, 'force'), inputs };
  const data = createSinkGroup(sinkOptions);
  const messages = createSinkGroup(sinkOptions);
  const format = formatOf(invocation);
  let problemSink: Sink | null = null;
  let problemText = '';
  let problemsWritten: Promise<void> = Promise.resolve();
  /** Hands the problems gathered so far to their file, so that they need no memory. */
  const writeProblems = (least: number): void => {
    if (problemSink === null || problemText.length < least) return;
    const sink = problemSink;
    const text = problemText;
    problemText = '';
    problemsWritten = problemsWritten.then(() => sink.write(text));
  };
  const diagnostics = createDiagnostics(
    context,
    {
      quiet: flagOption(invocation, 'quiet'),
      verbose: flagOption(invocation, 'verbose'),
      colour: colourFor(context, invocation.options['color'] !== false),
      json: format === 'json',
    },
    (problem) => {
      if (problemSink === null) return;
      problemText += `${JSON.stringify(problem)}\n`;
      writeProblems(1 << 16);
    },
  );
  const progress = createProgress(context, invocation.options['progress'] !== false && !flagOption(invocation, 'quiet'));
  const warn = (problems: readonly Problem[]): void => {
    diagnostics.report(problems);
  };
  const memory = createMemoryGuard();
  const bench: Workbench = {
    context,
    invocation,
    diagnostics,
    progress,
    format,
    open: async (path) => unwrap(await data.open(path), warn),
    take: (outcome) => unwrap(outcome, warn),
    breathe() {
      if (context.signal.aborted) throw new InterruptedError('interrupted');
      const full = memory();
      if (full !== null) throw new StopError([full]);
    },
  };
  let recordSink: Sink | null = null;
  try {
    const problemsPath = textOption(invocation, 'problems');
    if (problemsPath !== null) problemSink = unwrap(await messages.open(problemsPath), warn);
    const recordPath = textOption(invocation, 'record');
    if (recordPath !== null) recordSink = unwrap(await messages.open(recordPath), warn);
    const end = await body(bench);
    progress.clear();
    bench.breathe();
    // A disk that is full is met here, while the record can still say so.
    bench.take(await data.finish());
    if (recordSink !== null && end.record !== null) await recordSink.write(end.record(end.exit, diagnostics));
    return await finish(data, messages, end.exit);
  } catch (error) {
    progress.clear();
    await data.abort();
    if (error instanceof InterruptedError || context.signal.aborted) {
      await messages.abort();
      throw error;
    }
    if (!(error instanceof StopError)) {
      await messages.abort();
      throw error;
    }
    diagnostics.report(error.problems);
    const first = diagnostics.firstError();
    const exit = exitCodeFor(error.problems.length > 0 || first === null ? error.problems : [first]);
    if (recordSink !== null && failureRecord !== null) await recordSink.write(failureRecord(exit, diagnostics));
    return await finish(null, messages, exit);
  }

  async function finish(outputs: SinkGroup | null, others: SinkGroup, exit: number): Promise<number> {
    diagnostics.close();
    writeProblems(1);
    await problemsWritten;
    // Everything is on the disk before the first file becomes visible; a record never tells of data that did not appear.
    const ready = await others.finish();
    const shown = ready.ok && outputs !== null ? await outputs.commit() : ready;
    if (!shown.ok) {
      await outputs?.abort();
      await others.abort();
      diagnostics.report(shown.problems);
      return exitCodeFor(shown.problems);
    }
    const written = await others.commit();
    if (!written.ok) {
      diagnostics.report(written.problems);
      return exitCodeFor(written.problems);
    }
    return shown.value === 'stopped' ? EXIT_CODES.done.code : exit;
  }
}

function formatOf(invocation: Invocation): OutputFormat {
  const given = textOption(invocation, 'format');
  if (given === 'csv' || given === 'geojson' || given === 'json') return given;
  switch (extname(textOption(invocation, 'output') ?? '').toLowerCase()) {
    case '.geojson':
      return 'geojson';
    case '.json':
      return 'json';
    default:
      return 'csv';
  }
}
