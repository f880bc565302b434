import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import { runDesign } from '../../../tasks/design/run-design.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { loadStations } from '../../inputs/station-load.js';
import { tableOptions } from '../../inputs/table-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { createRejects } from '../../outputs/rejects.js';
import { numberOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { designAnswer, designSummary, writeExplained, writePoints } from './write-design.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';

/** The range of heights alone may cost so much before it is warned of; common practice, no published source. */
const HEIGHT_LIMIT_PPM = 20;

/** Designs a project grid; see `designGridSpec`. */
export const runDesignGrid: CommandRun = (invocation, context) => {
  const inputs = inputPaths([...invocation.args, ...textsGiven(invocation, ['session', 'geoid'])], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => design(bench, log), log.failure);
};

async function design(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const heightLimitPpm = numberOption(invocation, 'heightLimit') ?? HEIGHT_LIMIT_PPM;
  if (!(heightLimitPpm > 0)) bench.take(failure(noLimit(heightLimitPpm)));
  const tables = bench.take(tableOptions(invocation, null));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const loaded = await loadStations(bench, log, tables, rejects, false);
  const { grid } = loaded.setup;
  const wrongFrame = bench.format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  const outcome = runDesign({
    stations: loaded.stations,
    grid,
    method: textOption(invocation, 'method'),
    measure: textOption(invocation, 'minimise') ?? 'largest',
    heightLimitPpm,
    name: textOption(invocation, 'name') ?? 'Project grid',
  });
  const run = bench.take(outcome);
  const answer = designAnswer(run, outcome.problems.length > 0, loaded.rejected);
  log.model('grid', { role: 'system', name: run.name, definition: run.proj, sha256: null });
  log.method({
    id: 'design-grid',
    name: 'project grid of least distortion on the ground',
    source: { key: 'IOGP-373-7-2', locator: 'docs/methods/project-grid.md' },
  });
  const explained = await writeExplained(run, loaded, bench);
  if (explained === null || textOption(invocation, 'output') !== null) {
    await writePoints(run, loaded, answer, bench);
    for (const line of designSummary(run, loaded)) diagnostics.say(line);
  }
  const wktPath = textOption(invocation, 'wkt');
  if (wktPath !== null) await (await bench.open(wktPath)).write(run.wkt);
  const reportPath = textOption(invocation, 'report');
  if (reportPath !== null) {
    const { writeDesignReport } = await import('./design-report-write.js');
    await writeDesignReport(reportPath, run, loaded, { answer, explained }, bench, log);
  }
  return endWith(answer, invocation, log);
}

function noLimit(ppm: number): Problem {
  return errorProblem('usage-invalid', {
    message: `--height-limit ${String(ppm)} is no limit`,
    received: String(ppm),
    expected: 'ppm, above 0',
  });
}
