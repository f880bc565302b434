import { answerJson } from '../../../io/documents/answer-json.js';
import { failure } from '../../../records/outcome.js';
import { createTransformRun } from '../../../tasks/transform/transform-run.js';
import { siteHeightProblem } from '../../../tasks/transform/written-heights.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { tableOptions } from '../../inputs/table-options.js';
import { textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { doubtedAnswer, endWith } from '../../shell/run/run-end.js';
import { logJob } from '../../inputs/job-option.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { StopError } from '../../shell/run/stop.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { carryPlaces, openPlaceOutputs, sayLeftOut } from './carry-places.js';
import type { RowCarrier } from './carry-places.js';
import { openQuiet } from './blocks/open-quiet.js';
import { explainTarget } from './explain-target.js';
import { openPlaces } from './open-places.js';
import { loadTransform } from './options/load-transform.js';
import { formatConflict } from './options/format-conflict.js';
import { positionCheck, readOptions } from './read-options.js';
import { askedPage } from './say/asked-page.js';
import { moverInWords, saidOfRun } from './say/said-of-run.js';
import { recordTransform } from './say/record-transform.js';
import { openTable } from './say/open-table.js';

/** Carries points to another system; see `transformSpec`. */
export const runTransform: CommandRun = (invocation, context) => {
  const sidecars = textsGiven(invocation, ['shift', 'geoid', 'site', 'velocityGrid']);
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => transform(bench, log), log.failure);
};

async function transform(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics, format } = bench;
  const dms = textOption(invocation, 'angles') === 'dms';
  await logJob(bench, log);
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
  const compare = bench.take(positionCheck(planned, tables.positionFrom));
  const explained = explainTarget(bench);
  const run = createTransformRun(planned, explained?.way ?? null);
  const page = await askedPage(bench, planned, opened, tables, log, explained);
  const writer = openTable(bench, planned, input, tables.dialect, explained === null && page === null);
  const carry: RowCarrier = (row, tell) => {
    explained?.begin(row.pointId);
    const point = run.carry(row, page === null ? tell : page.listen(tell));
    explained?.take(row.pointId, point !== null);
    if (point !== null) page?.add(row, point);
    return point;
  };
  const heard = page === null ? null : page.refuse;
  const quiet = await openQuiet(bench, { opened, compare, run, writer });
  const counts = await carryPlaces({ opened, tables, compare, carry, heard, quiet, writer, outputs }, bench, log);
  const { count } = counts;
  const { lines, outside, problem } = run.end();
  const said = problem === null ? saidOfRun(planned, count, heights, lines) : lines;
  if (outputs.sink !== null || problem !== null) for (const line of said) diagnostics.say(line);
  if (problem !== null) throw new StopError([problem]);
  const answer = doubtedAnswer(counts);
  await explained?.write(outputs.explain);
  await outputs.sink?.write(writer.end({ ...answerJson(answer), points: count }));
  sayLeftOut(opened, counts, { by: moverInWords(planned), hasSite: planned.end?.site != null }, bench);
  // The way is what the page begins with.
  await page?.write(counts, answer.answer, said.slice(1), outside);
  return endWith(answer, invocation, log);
}
