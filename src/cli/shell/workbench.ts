import { tmpdir } from 'node:os';
import { resolve } from 'node:path';
import type { OutputFormat } from '../../files/points/points-writer.js';
import { inputRegistryBelow, withInputRegistry } from '../../io/bytes/input-registry.js';
import { createSinkGroup } from '../../io/bytes/output/sink-group.js';
import type { RunOutput } from '../../io/documents/run-record.js';
import type { WrittenFile } from '../../io/bytes/output/sink-group.js';
import type { Sink } from '../../io/bytes/output/sink.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { failure } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { isRecordOfFailedRun } from '../inputs/read-record.js';
import { commitOutputs } from './run/commit-outputs.js';
import type { OutputGroups } from './run/commit-outputs.js';
import { flagOption, textOption } from './command-spec.js';
import type { Invocation } from './command-spec.js';
import type { Context } from './context.js';
import { isCheckOnly, printInForce, withoutResults } from './run/check-only.js';
import { createDiagnostics } from './messages/diagnostics.js';
import type { Diagnostics } from './messages/diagnostics.js';
import { messageSettings } from './messages/message-settings.js';
import { EXIT_CODES, exitCodeFor } from './exit-codes.js';
import { createMemoryGuard } from './run/memory-guard.js';
import { createProblemFile } from './messages/problem-file.js';
import { createProgress } from './messages/progress.js';
import type { WriteRecord } from './run/run-log.js';
import type { Progress } from './messages/progress.js';
import { createParquetTables, refuseNoTables } from './run/parquet-tables.js';
import { prepareRunLine } from './run/run-ledger.js';
import type { RunFiles, ToldRun } from './run/run-ledger.js';
import { formatByEnding } from './run/side-tables.js';
import type { RunTable } from './run/side-tables.js';
import { createShownTable } from './messages/shown-table.js';
import { InterruptedError, StopError, unwrap } from './run/stop.js';

/** What every command works with: messages, outputs that appear together, the ways to stop. */
export interface Workbench {
  readonly context: Context;
  readonly invocation: Invocation;
  readonly diagnostics: Diagnostics;
  readonly progress: Progress;
  /** From --format, else the extension of --output, else csv. */
  readonly format: OutputFormat;
  /** Says that these files are inputs, by their absolute paths: no output may be one of them. */
  readonly guard: (paths: readonly string[]) => void;
  /** A table, that of --output where none is named, is shown otherwise than it is made: it must be a table, with its header. */
  readonly isViewed: (table?: RunTable) => boolean;
  /** Says as soon as they are known which columns a table will have: one that is asked for and is none of them stops the run. */
  readonly columns: (names: readonly string[], table?: RunTable) => void;
  /** Opens an output that appears only if the run succeeds. Problems stop the run. */
  readonly open: (pathOrDash: string) => Promise<Sink>;
  /** Takes an output that was opened elsewhere; it appears with the others. */
  readonly add: (sink: Sink) => Promise<void>;
  /** Opens the page of --report, which appears after the data, and whose failure is no failure of theirs. */
  readonly openPage: (path: string) => Promise<Sink>;
  /** Draws a page, or gathers what it shows: null where that fails, which is said at the end. */
  readonly draw: <T>(make: () => T) => T | null;
  /** The value, or the end of the run. Warnings are reported. */
  readonly take: <T>(outcome: Outcome<T>) => T;
  /** Stops the run if a signal came, or memory runs out. */
  readonly breathe: () => void;
}

/** What a run leaves for its record. */
export interface RunEnd {
  readonly exit: number;
  /** The run record as text, given the final counts; null when none was asked for. */
  readonly record: WriteRecord | null;
  /** What the ledger of its job is told; absent: nothing. */
  readonly told?: ToldRun;
  /** Codes that rows carry: warnings of them change a verdict. */
  readonly reasons: ReadonlySet<string>;
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
  failureRecord: WriteRecord | null = null,
): Promise<number> {
  const confine = textOption(invocation, 'confine');
  const folder = confine === null ? null : resolve(context.cwd, confine);
  const registry = await inputRegistryBelow(folder);
  return withInputRegistry(registry, () => runOnWorkbench(invocation, context, inputs, body, failureRecord));
}

async function runOnWorkbench(
  invocation: Invocation,
  context: Context,
  inputs: readonly string[],
  body: (bench: Workbench) => Promise<RunEnd>,
  failureRecord: WriteRecord | null,
): Promise<number> {
  const guarded = [...inputs];
  const job = textOption(invocation, 'job');
  const { data, pages, messages } = openGroups(invocation, context, guarded);
  const drawing = createDrawing();
  const format = formatOf(invocation);
  const problemFile = createProblemFile();
  const diagnostics = createDiagnostics(context, messageSettings(invocation, context, format), problemFile.add);
  const progress = createProgress(context, invocation.options.progress !== false && !flagOption(invocation, 'quiet'));
  const warn = (problems: readonly Problem[]): void => {
    diagnostics.report(problems);
  };
  const memory = createMemoryGuard();
  const shown = createShownTable(invocation, format);
  const parquet = createParquetTables(invocation, format);
  const bench: Workbench = {
    context,
    invocation,
    diagnostics,
    progress,
    format,
    guard(paths) {
      pushAll(guarded, paths);
    },
    isViewed: shown.isAsked,
    columns: shown.columns,
    open: async (path) => shown.opened(path, await parquet.opened(path, unwrap(await data.open(path), warn))),
    async add(sink) {
      unwrap(await data.add(sink), warn);
    },
    openPage: async (path) => unwrap(await pages.open(path), warn),
    draw: drawing.draw,
    take: (outcome) => unwrap(outcome, warn),
    breathe() {
      if (context.signal.aborted) throw new InterruptedError('interrupted');
      const full = memory();
      if (full !== null) throw new StopError([full]);
    },
  };
  let recordSink: Sink | null = null;
  try {
    refuseNoTables(invocation);
    const problemsPath = textOption(invocation, 'problems');
    const older = context.entry?.mayReplaceMessages;
    if (problemsPath !== null) problemFile.open(unwrap(await messages.open(problemsPath, older), warn));
    const recordPath = textOption(invocation, 'record');
    const mayReplace = older ?? ((path: string) => isRecordOfFailedRun(path, context));
    if (recordPath !== null) recordSink = unwrap(await messages.open(recordPath, mayReplace), warn);
    shown.ask(warn);
    const isCheck = isCheckOnly(invocation);
    const end = await body(isCheck ? { ...bench, diagnostics: withoutResults(diagnostics) } : bench);
    progress.clear();
    bench.breathe();
    if (isCheck) {
      await Promise.all([data.abort(), pages.abort()]);
      printInForce(context, end.record, diagnostics);
      return await finish(null, EXIT_CODES.done.code);
    }
    await shown.show();
    await parquet.convert();
    // A disk that is full is met here, while the record can still say so.
    bench.take(await data.finish());
    const fault = await pageFault();
    const exit = fault ?? end.exit;
    const written = { data: data.written(), pages: fault === null ? pages.written() : [] };
    const files = [...written.data, ...written.pages];
    const error = fault === null ? null : diagnostics.firstError();
    await tell(end.record?.(exit, diagnostics, outputsOf(invocation, files)), files, error);
    return await finish({ ...end, written }, exit);
  } catch (error) {
    progress.clear();
    await data.abort();
    await pages.abort();
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
    await tell(failureRecord?.(exit, diagnostics, []), [], diagnostics.firstError());
    return await finish(null, exit);
  }

  /** Writes the record, where one is asked for and there is one. */
  async function tell(text: string | undefined, files: readonly WrittenFile[], error: Problem | null): Promise<void> {
    if (recordSink === null || text === undefined) return;
    await recordSink.write(context.entry === undefined ? text : await context.entry.told(text, files, error));
  }

  /** Completes the page: null, or the exit code of its own failure, which leaves the data alone. */
  async function pageFault(): Promise<number | null> {
    const undrawn = drawing.fault();
    const finished = undrawn === null ? await pages.finish() : failure(undrawnPage(undrawn));
    if (finished.ok) return null;
    await pages.abort();
    diagnostics.report(finished.problems);
    return exitCodeFor(finished.problems);
  }

  async function finish(
    end: (RunEnd & { readonly written: Omit<RunFiles, 'messages'> }) | null,
    asked: number,
  ): Promise<number> {
    diagnostics.close(end?.reasons ?? new Set());
    await problemFile.end();
    const told = end?.told;
    const files = end === null ? null : { ...end.written, messages: messages.written() };
    // A ledger is of files: a run that only prints leaves nothing to be held against it.
    const hasFiles = files !== null && files.data.length + files.pages.length + files.messages.length > 0;
    const line =
      job === null || told === undefined || !hasFiles
        ? null
        : () => prepareRunLine(job, context, { ...told, exit: asked }, files, invocation);
    return commitOutputs({ data, pages, messages }, end !== null, asked, diagnostics, line);
  }
}

/** The outputs of a run by when they appear, none of them opened yet. */
function openGroups(invocation: Invocation, context: Context, inputs: readonly string[]): OutputGroups {
  const options = {
    cwd: context.cwd,
    stdout: context.stdout,
    tempDir: tmpdir(),
    force: flagOption(invocation, 'force'),
    inputs,
    taken: new Set<string>(),
  };
  const isOfJob = textOption(invocation, 'job') !== null;
  const isRecorded = isOfJob || textOption(invocation, 'record') !== null;
  const mayReplaceBy = context.entry?.mayReplace;
  const results = mayReplaceBy === undefined ? options : { ...options, mayReplaceBy };
  return {
    data: createSinkGroup(results, isRecorded),
    pages: createSinkGroup(results, isRecorded),
    messages: createSinkGroup({ ...options, mayReplaceNew: context.entry !== undefined }, isOfJob),
  };
}

/** Files of the run's results for its record, by the options that named them. */
function outputsOf({ options }: Invocation, written: readonly WrittenFile[]): readonly RunOutput[] {
  return written.map(({ path, digest }) => {
    const [role] = Object.entries(options).find(([, value]) => value === path) ?? ['output'];
    return { ...digest, role };
  });
}

/** Draws until something cannot be drawn; that is kept, and nothing is drawn after it. */
function createDrawing(): Pick<Workbench, 'draw'> & { readonly fault: () => unknown } {
  let undrawn: unknown = null;
  return {
    fault: () => undrawn,
    draw(make) {
      if (undrawn !== null) return null;
      try {
        return make();
      } catch (error) {
        undrawn = error;
        return null;
      }
    },
  };
}

/** A page that cannot be drawn is a defect of ours; what it would have shown is in the other outputs. */
function undrawnPage(error: unknown): Problem {
  return errorProblem('report-failed', {
    message: `the page could not be drawn: ${error instanceof Error ? error.message : String(error)}`,
    hint: 'the other outputs are in place; please report it with the command and its input',
  });
}

function formatOf(invocation: Invocation): OutputFormat {
  const given = textOption(invocation, 'format');
  if (given !== null) return given;
  // Standard output has no extension.
  return formatByEnding(textOption(invocation, 'output') ?? '');
}
