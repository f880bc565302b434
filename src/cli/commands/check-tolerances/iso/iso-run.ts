import { answerJson } from '../../../../io/documents/answer-json.js';
import type { IsoMeasurement } from '../../../../core/quality/standards/iso-17123-8.js';
import type { Standard } from '../../../../core/quality/standards/standards.js';
import { readSeriesFile } from '../../../../files/tables/read-series-file.js';
import { cellColumns, createCellTexts } from '../../../../io/tables/columns/cells/cell-text.js';
import { failure } from '../../../../records/outcome.js';
import { errorProblem } from '../../../../records/problem.js';
import { runIso } from '../../../../tasks/check/judge/run-iso.js';
import type { IsoRun } from '../../../../tasks/check/judge/run-iso.js';
import { resolveSession } from '../../../inputs/session-settings.js';
import type { TableOptions } from '../../../inputs/table-options.js';
import { csvWriteOptions } from '../../../outputs/csv-write-options.js';
import { recordsText } from '../../../outputs/record-writer.js';
import type { WrittenRecord } from '../../../outputs/record-writer.js';
import { textOption, textsGiven } from '../../../shell/command-spec.js';
import { endWith } from '../../../shell/run/run-end.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { RunEnd, Workbench } from '../../../shell/workbench.js';
import { checkAxes } from '../../../../files/check/check-axes.js';
import { openCheckPlaces, writeCheckJunit, writeCheckPage } from '../check-tolerances-places.js';
import { ISO_COLUMNS } from './iso-columns.js';
import { isoNominal } from './iso-options.js';
import { verdictLine } from '../say/check-verdict-text.js';

/** Runs the field procedure of a file of series, sets and points, from its options to its answer. */
export async function runIsoCheck(
  bench: Workbench,
  log: RunLog,
  tables: TableOptions,
  standard: Standard,
): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const [source] = invocation.args;
  if (source === undefined) {
    const hint = 'pegbook check-tolerances FILE --standard iso-17123-8 ...';
    return bench.take(failure(errorProblem('usage-invalid', { message: 'no file of series is named', hint })));
  }
  const read = async (path: string): Promise<readonly IsoMeasurement[]> => {
    const file = bench.take(await readSeriesFile(path, tables, bench.context));
    log.input(file.source, 'iso-17123-8 series', file.measurements.length, 0);
    return file.measurements;
  };
  // Session and job state who measured and with what, which the page of a procedure says; nothing is judged by them.
  if (textsGiven(invocation, ['session', 'job']).length > 0)
    log.session(bench.take(await resolveSession(invocation, bench.context)), bench.diagnostics);
  const places = await openCheckPlaces(bench);
  const nominal = bench.take(isoNominal(invocation));
  const measurements = await read(source);
  const other = textOption(invocation, 'campaign');
  const campaign = other === null ? null : await read(other);
  const { result, statements, answer } = bench.take(runIso({ measurements, source, nominal, campaign, standard }));
  const members = { procedure: result.procedure, verdict: answer.answer };
  const head = { schema: 'pegbook-iso-17123-8', list: 'sets', members, summary: answerJson(answer) };
  await places.output?.write(
    recordsText(bench.format, cellColumns(ISO_COLUMNS), isoRecords(result), head, csvWriteOptions(invocation)),
  );
  await writeCheckJunit(places, [], statements, answer, bench);
  for (const statement of statements) diagnostics.say(`${statement.what}: ${statement.text}`);
  const setup = { grid: null, bases: [], axes: checkAxes(null, null) };
  const inputDoubts = { rejected: 0, review: 0, unchecked: 0, rejectedIds: [], reviewIds: [] };
  const nothing = { summary: null, search: null, groups: [], day: null, dayLines: [], inputDoubts, fixes: null };
  await writeCheckPage(
    places,
    { ...nothing, rows: [], setup, statements, screen: result.screen },
    { title: null, answer: answer.answer },
    bench,
    log,
  );
  diagnostics.say(verdictLine(answer, [], statements, false));
  return endWith(answer, invocation, log);
}

/** The sets of the screen as rows. */
function isoRecords({ screen }: IsoRun['result']): readonly WrittenRecord[] {
  const cellsOf = createCellTexts(ISO_COLUMNS);
  return screen.sets.map((set) => ({ cells: cellsOf({ set, screen }), geometry: { kind: 'lines', lines: [] } }));
}
