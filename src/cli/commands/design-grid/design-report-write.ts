import type { WorkedPoint } from '../../../records/working-step.js';
import { designPage } from '../../../report/design/design-page.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import { designReport } from '../../../tasks/design/design-report.js';
import { spanOf } from '../../../core/observation/survey-span.js';
import type { DesignRun } from '../../../tasks/design/run-design.js';
import type { LoadedStations } from '../../inputs/station-load.js';
import { pageFacts } from '../../outputs/page-facts.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';

/** Writes the page of --report. Loaded only where one is asked for. */
export async function writeDesignReport(
  path: string,
  run: DesignRun,
  { setup, rows }: LoadedStations,
  { answer: { answer }, explained }: { readonly answer: RunAnswer; readonly explained: WorkedPoint | null },
  bench: Workbench,
  log: RunLog,
): Promise<void> {
  const about = {
    surveyed: spanOf(rows),
    ...pageFacts(bench, log),
    answer,
    worked: explained === null ? [] : [explained],
  };
  const sink = await bench.openPage(path);
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => designPage(designReport(run, setup.grid, about))) ?? '');
}
