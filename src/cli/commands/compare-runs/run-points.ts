import type { LoadedCheck } from '../../../files/check/load-check-setup.js';
import { openPoints } from '../../../files/points/open-points.js';
import { failure } from '../../../records/outcome.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { collectPoints } from '../../inputs/collect-points.js';
import type { TableOptions } from '../../inputs/table-options.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import { otherPoints } from './run-side.js';
import type { RunSide } from './run-side.js';

/** The points of a side, which are those that its record tells of. Problems stop the run. */
export async function pointsOf(
  side: RunSide,
  bench: Workbench,
  log: RunLog,
  { grid }: LoadedCheck,
  tables: TableOptions,
): Promise<readonly PointRow[]> {
  const settings = { tables, grid, needs: { position: 'any', height: 'none' } } as const;
  const opened = bench.take(await openPoints(side.path, 0, settings, bench.context));
  const { points, rejected } = await collectPoints(opened, bench, tables.onError);
  const other = otherPoints(side, opened.source.digest().sha256);
  if (other !== null) bench.take(failure(other));
  log.input(opened.source, opened.kind, points.length, rejected);
  return points;
}
