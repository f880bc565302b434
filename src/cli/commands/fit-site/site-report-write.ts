import type { WorkedPoint } from '../../../records/working-step.js';
import { sitePage } from '../../../report/site/site-page.js';
import { siteReport, whenOccupied } from '../../../tasks/site/site-report.js';
import { pageFacts } from '../../outputs/page-facts.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { RunWithTransfers } from './transfers.js';
import type { Workbench } from '../../shell/workbench.js';

/** Writes the page of --report. Loaded only where one is asked for. */
export async function writeSiteReport(
  path: string,
  { site, fitted, judged, said, answer, pairs, transfers }: RunWithTransfers,
  bench: Workbench,
  log: RunLog,
  explained: WorkedPoint | null,
): Promise<void> {
  const about = {
    title: site.title === '' ? null : site.title,
    surveyed: whenOccupied(pairs),
    ...pageFacts(bench, log),
    answer: answer.answer,
    ...(transfers !== null && { transfers }),
    ...(explained !== null && { worked: [explained] }),
    // Each problem of a fit says what mends it.
    suspicions: said.problems.map(({ message, hint }) => ({ text: message, mend: hint ?? '' })),
  };
  const sink = await bench.openPage(path);
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => sitePage(siteReport(site, fitted, judged, about))) ?? '');
}
