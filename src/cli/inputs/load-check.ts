import { loadCheckSetup } from '../../files/check/load-check-setup.js';
import type { LoadedCheck } from '../../files/check/load-check-setup.js';
import type { FixPlaces } from '../../io/tables/fixes/fix-row.js';
import type { RunLog } from '../shell/run/run-log.js';
import type { Workbench } from '../shell/workbench.js';
import { knownSession } from './known-session.js';
import type { ResolvedSession } from './session-settings.js';

/** Reads the session with the options laid over it and loads what it names for a check; all of it stands in the record. */
export async function loadCheck(
  bench: Workbench,
  log: RunLog,
): Promise<{ readonly setup: LoadedCheck; readonly resolved: ResolvedSession; readonly places: FixPlaces }> {
  const resolved = await knownSession(bench, log);
  log.session(resolved, bench.diagnostics);
  const { setup, models, places } = bench.take(await loadCheckSetup(resolved));
  if (models !== null) log.models(models, bench.diagnostics);
  return { setup, resolved, places };
}
