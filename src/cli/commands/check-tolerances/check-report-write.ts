import type { Sink } from '../../../io/bytes/output/sink.js';
import { checkPage } from '../../../report/check/check-page.js';
import { checkReport } from '../../../tasks/check/check-report.js';
import type { CheckResults } from '../../../tasks/check/check-report.js';
import { pageFacts } from '../../outputs/page-facts.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { WorkedPoint } from '../../../records/working-step.js';
import type { Answer } from '../../../records/runs/run-answer.js';

/** What the page of a check says besides its results. */
export interface CheckEnd {
  readonly title: string | null;
  readonly answer: Answer;
  /** What --explain works through; absent: nothing was asked for. */
  readonly worked?: readonly WorkedPoint[];
}

/** Writes the page of --report. Loaded only where one is asked for. */
export async function writeCheckReport(
  sink: Sink,
  results: CheckResults,
  end: CheckEnd,
  bench: Workbench,
  log: RunLog,
): Promise<void> {
  const about = {
    ...end,
    ...pageFacts(bench, log),
  };
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => checkPage(checkReport(results, about))) ?? '');
}
