import { answerJson } from '../../io/documents/answer-json.js';
import { runSummaryJson } from '../../io/documents/run-summary-json.js';
import { cellColumns, createCellTexts } from '../../io/tables/columns/cells/cell-text.js';
import { failure } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { rollUp, rowsOf } from '../../tasks/job/manifest/roll-up.js';
import type { RollUp } from '../../tasks/job/manifest/roll-up.js';
import { recordPieces } from '../outputs/record-writer.js';
import { csvWriteOptions } from '../outputs/csv-write-options.js';
import { textOption } from '../shell/command-spec.js';
import type { CommandSpec, Invocation } from '../shell/command-spec.js';
import type { Context } from '../shell/context.js';
import { placeText } from '../shell/messages/place-text.js';
import { endWith } from '../shell/run/run-end.js';
import { createRunLog } from '../shell/run/run-log.js';
import type { RunLog } from '../shell/run/run-log.js';
import { withWorkbench } from '../shell/workbench.js';
import type { RunEnd, Workbench } from '../shell/workbench.js';
import { entryStanding } from './entry-standing.js';
import type { EntryStanding } from './entry-standing.js';
import type { Manifest, ManifestEntry } from './load-manifest.js';
import { STATUS_COLUMNS } from './status-columns.js';
import type { StatusRow } from './status-columns.js';
import { statusText } from './status-text.js';

/** Options of a command that are of its status and not of the entries. */
const OF_STATUS = ['output', 'record', 'problems', 'format'] as const;
/** Of the command line, what a status is made with beside them. */
const HELD = ['force', 'quiet', 'verbose', 'color', 'progress', 'failOn'] as const;

/** Says how the entries of a manifest stand, and adds up those that are done. Nothing is run. Returns the exit code. */
export function manifestStatus(
  spec: CommandSpec,
  manifest: Manifest,
  invocation: Invocation,
  context: Context,
): Promise<number> {
  const kept = [...OF_STATUS, ...HELD].flatMap((name) => {
    const value = invocation.options[name];
    return value === undefined ? [] : [[name, value] as const];
  });
  const own: Invocation = { args: [], options: Object.fromEntries(kept) };
  const log = createRunLog(own, context);
  const inputs = [manifest.path, ...manifest.entries.map(({ recordPath }) => recordPath)];
  return withWorkbench(own, context, inputs, (bench) => status(spec, manifest, bench, log), log.failure);
}

async function status(spec: CommandSpec, manifest: Manifest, bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  if (bench.format === 'geojson')
    bench.take(failure(errorProblem('usage-conflict', { message: 'runs have no place that GeoJSON could hold' })));
  const output = textOption(invocation, 'output');
  const sink = await bench.open(output ?? '-');
  log.file(manifest.digest.name, 'manifest', manifest.digest.bytes, manifest.digest.sha256);
  const rows: StatusRow[] = [];
  const stood: {
    readonly state: EntryStanding['state'];
    readonly output: string;
    readonly run: EntryStanding['run'];
  }[] = [];
  for (const entry of manifest.entries) {
    bench.breathe();
    const standing = await entryStanding(entry, manifest.folder, context);
    if (standing.digest !== null) log.file(entry.record, 'run record', standing.digest.bytes, standing.digest.sha256);
    rows.push(statusRow(entry, standing));
    stood.push({ state: standing.state, output: entry.output, run: standing.run });
  }
  const whole = rollUp(stood);
  if (whole.summary !== null) log.summary(whole.summary);
  if (output === null && textOption(invocation, 'format') === null) await sink.write(statusText(rows));
  else {
    const cells = createCellTexts(STATUS_COLUMNS);
    const records = rows.map((row) => ({ cells: cells(row), geometry: { kind: 'lines', lines: [] } as const }));
    const head = {
      schema: 'pegbook-manifest-status',
      list: 'entries',
      members: {},
      summary: summaryJson(spec, manifest, whole),
    };
    for (const piece of recordPieces(
      bench.format,
      cellColumns(STATUS_COLUMNS),
      records,
      head,
      csvWriteOptions(invocation),
    ))
      await sink.write(piece);
  }
  const counts = [...whole.states].map(([state, count]) => `${String(count)} ${state}`).join(', ');
  diagnostics.say(
    `${manifest.name}: ${String(rows.length)} of ${spec.name}: ${counts}; verdict: ${whole.answer.answer}`,
  );
  return endWith(whole.answer, invocation, log);
}

function statusRow({ number, line, output, record }: ManifestEntry, standing: EntryStanding): StatusRow {
  const { state, changed, run, files } = standing;
  const problem = files?.problem ?? null;
  const place = placeText(problem?.where);
  return {
    number,
    line,
    output,
    record,
    state,
    verdict: run?.verdict ?? null,
    exitCode: run?.exitCode ?? null,
    problemCode: problem?.code ?? null,
    said: problem === null ? changed : [place, problem.message].filter((text) => text !== '').join(': '),
    rows: run === null ? null : rowsOf([run]),
  };
}

function summaryJson(spec: CommandSpec, manifest: Manifest, whole: RollUp): Readonly<Record<string, unknown>> {
  const { rows, states, answer, problems, summary } = whole;
  return {
    command: spec.name,
    manifest: manifest.digest.name,
    manifest_sha256: manifest.digest.sha256,
    entries: manifest.entries.length,
    ...Object.fromEntries([...states].map(([state, count]) => [state.replace('-', '_'), count])),
    rows_read: rows.read,
    rows_used: rows.used,
    rows_rejected: rows.rejected,
    ...answerJson(answer),
    problems: Object.fromEntries(problems),
    ...(summary !== null && { summary: runSummaryJson(summary) }),
  };
}
