import { failure } from '../../../records/outcome.js';
import { VERSION } from '../../../records/runs/version.js';
import type { OutputFormat } from '../../../files/points/points-writer.js';
import { axesOfGrid, runSite } from '../../../tasks/site/run-site.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { loadStations } from '../../inputs/station-load.js';
import { tableOptions } from '../../inputs/table-options.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { createRejects } from '../../outputs/rejects.js';
import { textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun, Invocation } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { loadControl } from './fit-site-control.js';
import { isWithheld, recordSite, sayColumns, siteFormat, writeSite } from './site-outputs.js';
import { siteAsked } from './site-settings.js';
import { writeExplainedSite } from './write-explained-site.js';
import { siteSummary, siteVerdictLine } from './site-summary.js';
import { withTransfers } from './transfers.js';
import { present } from '../../../records/present.js';

/** Fits a site; see `fitSiteSpec`. */
export const runFitSite: CommandRun = (invocation, context) => {
  const sidecars = textsGiven(invocation, ['session', 'geoid', 'control', 'levelled']);
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  // The site file is JSON by its name; messages are JSON only when that is asked for in words.
  const format = siteFormat(invocation);
  const spoken: Invocation = {
    ...invocation,
    options: { ...invocation.options, format: textOption(invocation, 'format') ?? 'csv' },
  };
  return withWorkbench(spoken, context, inputs, (bench) => fit(bench, format, log), log.failure);
};

async function fit(bench: Workbench, format: OutputFormat, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const { controlPath, ...asked } = bench.take(siteAsked(invocation));
  const tables = bench.take(tableOptions(invocation, null));
  const rejectsPath = textOption(invocation, 'rejects');
  const rejects = createRejects(rejectsPath === null ? null : await bench.open(rejectsPath), tables.dialect.delimiter);
  const loaded = await loadStations(bench, log, tables, rejects, true);
  const { rows, stations, digest, rejected: rowsSkipped, session } = loaded;
  const { grid, geoid, systemText } = loaded.setup;
  const wrongFrame = format === 'geojson' ? geojsonFrameProblem(grid.base) : null;
  if (wrongFrame !== null) bench.take(failure(wrongFrame));
  const siteAxes = asked.siteAxes ?? axesOfGrid(grid);
  sayColumns(siteAxes, format, bench);
  const fitted = bench.take(
    runSite({
      ...asked,
      control: await loadControl(controlPath, siteAxes, bench, log),
      measured: { rows, stations, digest, rowsSkipped },
      grid,
      geoid,
      systemText,
      bases: session.bases,
      // A session without a title gives the site none.
      title: session.title ?? '',
      toolVersion: VERSION,
    }),
  );
  const points = rows.map((row, at) => ({ row, station: present(stations[at], 'the station of a row') }));
  const run = await withTransfers(fitted, { points, bases: session.bases }, bench, log);
  recordSite(run, invocation, log);
  await writeSite(run, grid.base.code ?? grid.base.name, format, bench);
  const explained = await writeExplainedSite(run, bench);
  if (explained === null || textOption(invocation, 'output') !== null) {
    for (const line of siteSummary(run)) diagnostics.say(line);
    if (isWithheld(run, format)) diagnostics.say('no site file is written');
    diagnostics.say(siteVerdictLine(run));
  }
  const reportPath = textOption(invocation, 'report');
  if (reportPath !== null)
    await (await import('./site-report-write.js')).writeSiteReport(reportPath, run, bench, log, explained);
  return endWith(run.answer, invocation, log);
}
