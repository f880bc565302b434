import type { SiteAxes } from '../../../core/adjustment/site-axes.js';
import { openPoints } from '../../../files/points/open-points.js';
import { errorProblem } from '../../../records/problem.js';
import type { RowsOfFile } from '../../../tasks/site/run-site.js';
import { collectPoints } from '../../inputs/collect-points.js';
import type { Invocation } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run-log.js';
import { StopError } from '../../shell/stop.js';
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
  const opened = bench.take(
    await openPoints(path, 1, { tables, grid: null, needs: { position: 'none', height: 'none' } }, context),
  );
  const { axes } = opened.input;
  if (axes !== null && (axes[0] !== siteAxes.columns[0] || axes[1] !== siteAxes.columns[1])) {
    throw new StopError([
      errorProblem('csv-axes-mismatch', {
        message: `the pair of the control is ${axes.join(', ')} and that of the site is ${siteAxes.columns.join(', ')}`,
        where: { source: opened.source.name },
        received: axes.join(','),
        expected: siteAxes.columns.join(','),
        hint: `if the site really has these axes and this unit, say so: --site-axes ${axes.join(',')}`,
      }),
    ]);
  }
  const { points, rejected } = await collectPoints(opened, bench, 'stop');
  log.input(opened.source, 'control', points.length, rejected);
  return { rows: points, digest: opened.source.digest() };
}
