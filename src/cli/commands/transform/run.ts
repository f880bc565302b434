import { resolve } from 'node:path';
import { answerJson } from '../../../io/documents/answer-json.js';
import { failure } from '../../../records/outcome.js';
import { createTransformRun } from '../../../tasks/transform/transform-run.js';
import { siteHeightProblem } from '../../../tasks/transform/written-heights.js';
import type { PlannedTransform } from '../../../tasks/transform/plan-transform.js';
import { tableOptions } from '../../inputs/table-options.js';
import type { TableOptions } from '../../inputs/table-options.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { createRowWriter } from '../../outputs/row-writer.js';
import { textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run-end.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { StopError } from '../../shell/stop.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { carryPlaces, openPlaceOutputs, sayLeftOut } from './carry-places.js';
import type { RowMapper } from './carry-places.js';
import { openPlaces } from './open-places.js';
import type { OpenedPlaces } from './open-places.js';
import { loadTransform } from './options/load-transform.js';
import { formatConflict } from './options/format-conflict.js';
import { positionCheck, readOptions } from './read-options.js';
import type { PageOfRun } from './say/page-of-run.js';
import { moverInWords, saidOfRun } from './say/said-of-run.js';
import { recordTransform } from './say/record-transform.js';
import { transformTable } from './say/transform-table.js';
import { writtenFrame, writtenPlace } from './say/written-place.js';

/** Carries points to another system; see `transformSpec`. */
export const runTransform: CommandRun = (invocation, context) => {
  const files = [
    ...invocation.args.filter((path) => path !== '-'),
    ...textsGiven(invocation, ['shift', 'geoid', 'site', 'velocityGrid']),
  ];
  const log = createRunLog(invocation, context);
  return withWorkbench(
    invocation,
    context,
    files.map((path) => resolve(context.cwd, path)),
    (bench) => transform(bench, log),
    log.failure,
  );
};

async function transform(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics, format } = bench;
  const dms = textOption(invocation, 'angles') === 'dms';
  const loaded = bench.take(await loadTransform(invocation, context, format === 'geojson'));
  const { planned } = loaded;
  const unfit = formatConflict(planned, format, dms);
  if (unfit !== null) bench.take(failure(unfit));
  recordTransform(loaded, invocation, log);
  const tables = bench.take(tableOptions(invocation, null));
  const opened = bench.take(await openPlaces(invocation.args[0] ?? '-', readOptions(planned, tables), tables, context));
  const { input, source } = opened;
  const heights = { orthometric: input.hasOrthometric, ellipsoidal: input.hasEllipsoidal };
  const noHeight = siteHeightProblem(planned, heights, source.name);
  if (noHeight !== null) bench.take(failure(noHeight));
  const outputs = await openPlaceOutputs(bench, tables);
  const { columns, notes, cells } = transformTable(planned, input, format, dms ? 'dms' : 'degrees');
  bench.columns(columns.map(({ name }) => name));
  diagnostics.report(notes);
  const frame = writtenFrame(planned, textOption(invocation, 'topocentricAt'));
  const writer = createRowWriter(format, columns, frame, csvWriteOptions(invocation));
  const compare = bench.take(positionCheck(planned, tables.positionFrom));
  const run = createTransformRun(planned);
  const place = writtenPlace(planned);
  const page = await pageOfRun(bench, planned, opened, tables, log);
  const map: RowMapper = (row, tell) => {
    const point = run.carry(row, page === null ? tell : page.listen(tell));
    if (point === null) return null;
    page?.add(row, point);
    return place(cells(row, point), point);
  };
  const heard = page === null ? null : page.refuse;
  const counts = await carryPlaces({ opened, tables, compare, map, heard, writer, outputs }, bench, log);
  const { count, bad } = counts;
  const { lines, problem } = run.end();
  const said = problem === null ? saidOfRun(planned, count, heights, lines) : lines;
  for (const line of said) diagnostics.say(line);
  if (problem !== null) throw new StopError([problem]);
  const answer = rowsAnswer(count, bad);
  await outputs.sink.write(writer.end({ ...answerJson(answer), points: count }));
  sayLeftOut(opened, counts, moverInWords(planned), bench);
  // The way is what the page begins with.
  await page?.write(counts, answer.answer, said.slice(1));
  return endWith(answer, invocation, log);
}

/** The page of --report, to be filled while rows go by; null: none is asked for. */
async function pageOfRun(
  bench: Workbench,
  planned: PlannedTransform,
  { input }: OpenedPlaces,
  { dialect }: TableOptions,
  log: RunLog,
): Promise<PageOfRun | null> {
  const path = textOption(bench.invocation, 'report');
  if (path === null) return null;
  const angles = textOption(bench.invocation, 'angles') === 'dms' ? 'dms' : 'degrees';
  const { openPageOfRun } = await import('./say/page-of-run.js');
  return openPageOfRun(path, planned, input, { angles, decimalComma: dialect.decimalComma }, bench, log);
}
