import { answerJson } from '../../../io/documents/answer-json.js';
import { cellColumns, createCellTexts } from '../../../io/tables/columns/cells/cell-text.js';
import type { FinishedRun } from '../../../records/runs/finished-run.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { runsAnswer } from '../../../tasks/job/runs/runs-answer.js';
import { runRow } from '../../../tasks/job/runs/run-row.js';
import type { RunRow } from '../../../tasks/job/runs/run-row.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { readRecord } from '../../inputs/read-record.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { recordPieces } from '../../outputs/record-writer.js';
import { textOption } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { StopError } from '../../shell/run/stop.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { RUN_COLUMNS } from './run-columns.js';
import { runsText } from './runs-text.js';

/** Lists runs by their records; see `listRunsSpec`. */
export const runListRuns: CommandRun = (invocation, context) => {
  const log = createRunLog(invocation, context);
  const body = (bench: Workbench): Promise<RunEnd> => list(bench, log);
  return withWorkbench(invocation, context, inputPaths(invocation.args, context.cwd), body, log.failure);
};

async function list(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  if (bench.format === 'geojson')
    bench.take(failure(errorProblem('usage-conflict', { message: 'runs have no place that GeoJSON could hold' })));
  const output = textOption(invocation, 'output');
  const isForPeople = textOption(invocation, 'format') === null && output === null && !bench.isViewed();
  bench.columns(RUN_COLUMNS.map(({ name }) => name));
  const sink = await bench.open(output ?? '-');
  const runs: FinishedRun[] = [];
  const rows: RunRow[] = [];
  let broken = 0;
  for (const path of invocation.args) {
    bench.breathe();
    const read = await readRecord(path, context);
    diagnostics.report(read.problems);
    if (!read.ok) {
      broken += 1;
      continue;
    }
    runs.push(read.value.run);
    rows.push(runRow(read.value.run, read.value.source.digest().sha256));
    log.input(read.value.source, 'run record', 0, 0);
  }
  if (broken > 0 && textOption(invocation, 'onError') !== 'skip') throw new StopError([]);
  const answer = runsAnswer(runs, rows, broken);
  if (isForPeople) await sink.write(runsText(rows));
  else {
    const cells = createCellTexts(RUN_COLUMNS);
    const records = rows.map((row) => ({ cells: cells(row), geometry: { kind: 'lines', lines: [] } as const }));
    const summary = { runs: rows.length, broken, ...answerJson(answer) };
    const head = { schema: 'pegbook-runs', list: 'runs', members: {}, summary };
    for (const piece of recordPieces(
      bench.format,
      cellColumns(RUN_COLUMNS),
      records,
      head,
      csvWriteOptions(invocation),
    ))
      await sink.write(piece);
  }
  diagnostics.say(
    `${rows.length} ${rows.length === 1 ? 'run' : 'runs'}: ${[...answer.verdicts].map(([word, number]) => `${number} ${word}`).join(', ')}${broken === 0 ? '' : `; ${broken} broken, left out on request`}`,
  );
  return endWith(answer, invocation, log);
}
