import type { WorkWindow } from '../../../../core/planning/time/earliest-in-windows.js';
import { readSideTable } from '../../../../files/tables/side-table.js';
import { readSkyWindows } from '../../../../io/tables/sky-window-read.js';
import { warningProblem } from '../../../../records/problem.js';
import type { PlanTarget } from '../../../../tasks/plan/targets/plan-target.js';
import { textOption } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';

const NAMES_SHOWN = 12;

/** The windows of --sky-windows in which each of its points may be occupied, seconds since 1970; null: none are named. */
export async function skyWindowsOf(
  bench: Workbench,
  log: RunLog,
  targets: readonly PlanTarget[],
): Promise<ReadonlyMap<string, readonly WorkWindow[]> | null> {
  const path = textOption(bench.invocation, 'skyWindows');
  if (path === null) return null;
  const { source, rows } = bench.take(await readSideTable(path, readSkyWindows, bench.context));
  log.input(source, 'sky windows', rows.length, 0);
  const windows = new Map<string, WorkWindow[]>();
  for (const { pointId, fromMs, toMs, isGood } of rows) {
    // A point that is named and has no good window at all is never to be occupied.
    const own = windows.get(pointId) ?? [];
    if (isGood) own.push({ fromS: fromMs / 1000, toS: toMs / 1000 });
    windows.set(pointId, own);
  }
  const open = targets.filter(({ id, kind }) => kind === 'point' && !windows.has(id)).map(({ id }) => id);
  if (open.length > 0)
    bench.diagnostics.report([
      warningProblem('sky-windows-open', {
        message: `${String(open.length)} points have no window in the file, and are planned at any time: ${open.slice(0, NAMES_SHOWN).join(', ')}${open.length > NAMES_SHOWN ? ' and others' : ''}`,
        where: { source: source.name },
        hint: 'write the windows with plan-sky --windows for the same points',
      }),
    ]);
  return windows;
}
