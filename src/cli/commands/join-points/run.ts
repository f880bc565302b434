import { answerJson } from '../../../io/documents/answer-json.js';
import { failure } from '../../../records/outcome.js';
import { geographicSystemOf } from '../../../files/systems/geographic-system-of.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { resolveSession } from '../../inputs/session-settings.js';
import { loadStations } from '../../inputs/station-load.js';
import { tableOptions } from '../../inputs/table-options.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { writeWorked } from '../../outputs/write-worked.js';
import { recordPieces } from '../../outputs/record-writer.js';
import { createRejects } from '../../outputs/rejects.js';
import { textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { joinAsked } from './join-mode.js';
import { columnsOfMode } from './join-tables.js';
import { workedLines } from './worked-lines.js';
import { joinResults } from './join-results.js';
import { runOnEllipsoid } from './run-on-ellipsoid.js';
import { joinCounts, joinMethod, joinSummary } from './join-summary.js';
import { isStreamed, runConsecutive } from './run-consecutive.js';

/** Joins points; see `joinPointsSpec`. */
export const runJoinPoints: CommandRun = (invocation, context) => {
  const sidecars = textsGiven(invocation, ['session', 'geoid', 'pairs', 'polar']);
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => run(bench, log), log.failure);
};

async function run(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics, format } = bench;
  const asked = bench.take(joinAsked(invocation, format));
  const tables = bench.take(tableOptions(invocation, null));
  const session = bench.take(await resolveSession(invocation, bench.context));
  const system = bench.take(geographicSystemOf(session.session.system?.grid ?? null));
  if (system !== null) return runOnEllipsoid({ session, system }, asked, tables, bench, log);
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  if (isStreamed(asked, bench)) return runConsecutive(asked, tables, rejects, bench, log);
  const loaded = await loadStations(bench, log, tables, rejects, false, (known) => {
    bench.columns(columnsOfMode(asked.mode, known));
  });
  const { grid } = loaded.setup;
  const wrongFrame = format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  log.method(joinMethod(asked.mode));

  const output = textOption(invocation, 'output');
  const sink = asked.explain && output === null ? null : await bench.open(output ?? '-');
  const working = asked.explain ? await bench.open('-') : null;
  const results = await joinResults(asked, loaded, bench, log);
  const { columns, rows, schema, list } = results.table;
  const members = { system: grid.code ?? grid.name, frame: grid.base.code ?? grid.base.name };
  const answered = rowsAnswer(rows.length, loaded.rejected);
  const head = { schema, list, members, summary: { ...answerJson(answered), [list]: rows.length } };
  if (sink !== null)
    for (const piece of recordPieces(format, columns, rows, head, csvWriteOptions(invocation))) await sink.write(piece);
  if (working !== null) for (const line of workedLines(results.joins, grid)) await writeWorked(working, [line]);
  const said = joinSummary(asked.mode, joinCounts(results, loaded), grid);
  if (sink !== null) for (const line of said) diagnostics.say(line);
  const report = textOption(invocation, 'report');
  if (report !== null) {
    const { writeJoinReport } = await import('./join-report-write.js');
    await writeJoinReport(report, { results, loaded, asked, answer: answered.answer, said }, bench, log);
  }
  return endWith(answered, invocation, log);
}
