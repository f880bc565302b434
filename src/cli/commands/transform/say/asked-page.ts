import type { PlannedTransform } from '../../../../tasks/transform/plan-transform.js';
import type { TableOptions } from '../../../inputs/table-options.js';
import { textOption } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { ExplainTarget } from '../explain-target.js';
import type { OpenedPlaces } from '../open-places.js';
import type { PageOfRun } from './page-of-run.js';

/** The page of --report, to be filled while rows go by; null: none is asked for. */
export async function askedPage(
  bench: Workbench,
  planned: PlannedTransform,
  { input }: OpenedPlaces,
  { dialect }: TableOptions,
  log: RunLog,
  explained: ExplainTarget | null,
): Promise<PageOfRun | null> {
  const path = textOption(bench.invocation, 'report');
  if (path === null) return null;
  const angles = textOption(bench.invocation, 'angles') === 'dms' ? 'dms' : 'degrees';
  const { openPageOfRun } = await import('./page-of-run.js');
  return openPageOfRun(path, planned, input, { angles, decimalComma: dialect.decimalComma }, bench, log, explained);
}
