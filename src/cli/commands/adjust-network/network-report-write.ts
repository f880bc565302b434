import type { NetworkPair } from '../../../records/reports/network-report.js';
import type { WorkedPoint } from '../../../records/working-step.js';
import { networkPage } from '../../../report/network/network-page.js';
import { networkPageReport } from '../../../tasks/network/page/network-page-report.js';
import type { NetworkResults } from '../../../tasks/network/network-results.js';
import { pageFacts } from '../../outputs/page-facts.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { NetworkInputs } from './network-inputs.js';

/** Writes the page of --report. Loaded only where one is asked for. */
export async function writeNetworkReport(
  path: string,
  { places, title, surveyed }: NetworkInputs,
  results: NetworkResults,
  pairs: readonly NetworkPair[],
  bench: Workbench,
  log: RunLog,
  worked: readonly WorkedPoint[],
): Promise<void> {
  const about = {
    title,
    surveyed,
    ...pageFacts(bench, log),
    worked,
  };
  const sink = await bench.openPage(path);
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => networkPage(networkPageReport(results, places, pairs, about))) ?? '');
}
