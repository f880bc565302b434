import { sitePage } from '../../../report/site/site-page.js';
import type { SiteRun } from '../../../tasks/site/run-site.js';
import { siteReport } from '../../../tasks/site/site-report.js';
import type { RunLog } from '../../shell/run-log.js';
import { shownCommand } from '../../shell/shown-command.js';
import { VERSION } from '../../../records/version.js';
import type { Workbench } from '../../shell/workbench.js';

/** Writes the page of --report. Loaded only where one is asked for. */
export async function writeSiteReport(
  path: string,
  { site, fitted, judged, answer }: SiteRun,
  bench: Workbench,
  log: RunLog,
): Promise<void> {
  const about = {
    title: site.title === '' ? null : site.title,
    toolVersion: VERSION,
    timeMs: log.timeMs,
    command: shownCommand(bench.context.argv),
    answer: answer.answer,
    files: log.inputs,
    warnings: bench.diagnostics.warnings(),
  };
  const sink = await bench.openPage(path);
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => sitePage(siteReport(site, fitted, judged, about))) ?? '');
}
