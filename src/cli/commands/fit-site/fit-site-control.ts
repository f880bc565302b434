import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import { openSiteControl } from '../../../files/points/read-site-control.js';
import type { RowsOfFile } from '../../../tasks/site/run-site.js';
import { collectPoints } from '../../inputs/collect-points.js';
import type { Invocation } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { tableOptions } from '../../inputs/table-options.js';
import type { Workbench } from '../../shell/workbench.js';

/** The control file; its pair must carry the names of the site's axes. Problems stop the run. */
export async function loadControl(
  path: string,
  siteAxes: SiteAxes,
  bench: Workbench,
  log: RunLog,
): Promise<RowsOfFile> {
  const { invocation, context } = bench;
  const own: Invocation = {
    ...invocation,
    options: { ...invocation.options, columns: invocation.options.controlColumns, rejects: undefined },
  };
  const tables = bench.take(tableOptions(own, null));
  const opened = bench.take(await openSiteControl(path, siteAxes, tables, context));
  const { points, rejected } = await collectPoints(opened, bench, 'stop');
  log.input(opened.source, 'control', points.length, rejected);
  return { rows: points, digest: opened.source.digest() };
}
