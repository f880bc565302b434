import type { RecordList } from '../../../records/record-list.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import { junitPieces } from '../../../io/documents/junit-write.js';
import { cellColumns } from '../../../io/tables/columns/cells/cell-text.js';
import type { Column } from '../../../io/tables/columns/column.js';
import type { Sink } from '../../../io/bytes/output/sink.js';
import type { CheckLine } from '../../../tasks/check/check-line.js';
import type { CheckResults } from '../../../tasks/check/check-report.js';
import type { CheckAxes, CheckRow } from '../../../tasks/check/judge/check-tolerances-setup.js';
import type { StandardStatement } from '../../../tasks/check/judge/check-tolerances-standard-statement.js';
import { checkColumns } from './check-columns.js';
import { checkRecords, createVectorRecord } from './say/check-records.js';
import { checkCases } from './say/check-junit.js';
import { numberOption, textOption } from '../../shell/command-spec.js';
import type { TextOption } from '../../shell/command-spec.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordPieces } from '../../outputs/record-writer.js';
import type { RecordHead, WrittenRecord } from '../../outputs/record-writer.js';
import { isFailing } from '../../shell/run/run-end.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { CheckEnd } from './check-report-write.js';

const DEFAULT_VECTOR_SCALE = 1000;

/** Where the outputs of a check go; null: not asked for. */
export interface CheckPlaces {
  readonly output: Sink | null;
  readonly junit: Sink | null;
  readonly vectors: Sink | null;
  readonly report: Sink | null;
  readonly explain: Sink | null;
}

/** The places of all outputs, proved usable before any work. */
export async function openCheckPlaces(bench: Workbench): Promise<CheckPlaces> {
  const { invocation } = bench;
  const open = async (name: TextOption): Promise<Sink | null> => {
    const path = textOption(invocation, name);
    return path === null ? null : bench.open(path);
  };
  const onlyFixes = invocation.args.length === 0 && textOption(invocation, 'output') === null;
  const reportPath = textOption(invocation, 'report');
  const isExplained = textOption(invocation, 'explain') !== null;
  const output = textOption(invocation, 'output');
  return {
    output: onlyFixes || (isExplained && output === null) ? null : await bench.open(output ?? '-'),
    explain: isExplained ? await bench.open('-') : null,
    junit: await open('junit'),
    vectors: await open('vectors'),
    report: reportPath === null ? null : await bench.openPage(reportPath),
  };
}

/** The table of comparisons, piece by piece. */
export async function writeCheckTable(
  { output }: CheckPlaces,
  columns: readonly Column<never, CheckLine>[],
  lines: Iterable<CheckLine>,
  head: RecordHead,
  bench: Workbench,
): Promise<void> {
  if (output !== null)
    for (const piece of recordPieces(
      bench.format,
      cellColumns(columns),
      checkRecords(columns, lines, bench.format === 'geojson'),
      head,
      csvWriteOptions(bench.invocation),
    ))
      await output.write(piece);
}

/** The residuals as lines for a map. */
export async function writeCheckVectors(
  { vectors }: CheckPlaces,
  rows: RecordList<CheckRow>,
  bench: Workbench,
  axes: CheckAxes,
): Promise<void> {
  if (vectors === null) return;
  const scale = numberOption(bench.invocation, 'vectorScale') ?? DEFAULT_VECTOR_SCALE;
  const columns = checkColumns(axes);
  const vectorRecord = createVectorRecord(columns, scale);
  let undrawn = 0;
  function* drawn(): Generator<WrittenRecord> {
    for (const row of rows) {
      const record = vectorRecord(row);
      if (record === null) undrawn += 1;
      else yield record;
    }
  }
  const head = { schema: 'pegbook-check-vectors', list: 'checks', members: { vector_scale: scale }, summary: null };
  for (const piece of recordPieces('geojson', cellColumns(columns), drawn(), head, csvWriteOptions(bench.invocation)))
    await vectors.write(piece);
  if (undrawn > 0) bench.diagnostics.say(`${String(undrawn)} residuals have no place and are not drawn`);
}

/** The verdicts for continuous integration, piece by piece. */
export async function writeCheckJunit(
  { junit }: CheckPlaces,
  rows: RecordList<CheckRow>,
  statements: readonly StandardStatement[],
  { answer }: RunAnswer,
  { invocation }: Workbench,
): Promise<void> {
  if (junit !== null)
    for (const piece of junitPieces(
      'pegbook check-tolerances',
      checkCases(rows, statements, isFailing('review', invocation)),
      answer,
    ))
      await junit.write(piece);
}

/** The page, where one is asked for. */
export async function writeCheckPage(
  { report }: CheckPlaces,
  results: CheckResults,
  end: CheckEnd,
  bench: Workbench,
  log: RunLog,
): Promise<void> {
  if (report !== null)
    await (await import('./check-report-write.js')).writeCheckReport(report, results, end, bench, log);
}
