import type { CorrectionsReport } from '../../../records/reports/corrections-report.js';
import { streamCost } from '../../../tasks/corrections/stream-cost.js';
import { textOption } from '../../shell/command-spec.js';
import { pageFacts } from '../../outputs/page-facts.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { FoundCorrections } from './write-corrections.js';

/** What the page says beside what was found. */
export type AboutCorrections = Pick<
  CorrectionsReport,
  'title' | 'findings' | 'basesHeld' | 'toleranceM' | 'rowsSkipped'
>;

/** Writes the page of --report, where one is asked for. Warnings must have been reported. */
export async function writeCorrectionsReport(
  bench: Workbench,
  log: RunLog,
  { audit, checks, link, answer, hours }: FoundCorrections,
  about: AboutCorrections,
): Promise<void> {
  const path = textOption(bench.invocation, 'report');
  if (path === null) return;
  const sink = await bench.openPage(path);
  const { correctionsPage } = await import('../../../report/corrections/corrections-page.js');
  const report: CorrectionsReport = {
    ...about,
    ...{ audit, checks, link },
    cost: audit === null ? null : streamCost(audit, hours),
    answer: answer.answer,
    ...pageFacts(bench, log),
  };
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => correctionsPage(report)) ?? '');
}
