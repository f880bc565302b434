import { WGS84 } from '../../../core/ellipsoid/ellipsoid.js';
import { loadHeldBases } from '../../../files/corrections/load-held-bases.js';
import type { HeldBases } from '../../../files/corrections/load-held-bases.js';
import { readStreams } from '../../../files/corrections/read-streams.js';
import type { CorrectionAudit } from '../../../records/corrections/correction-audit.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { resolveSession } from '../../inputs/session-settings.js';
import { isGiven } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { StreamOptions } from './stream-options.js';

/** The bases of --session or --job, with the systems to show what was sent in; null without them. */
export async function heldBases(bench: Workbench, log: RunLog): Promise<HeldBases | null> {
  const { invocation, context } = bench;
  if (!isGiven(invocation, 'session') && !isGiven(invocation, 'job') && !isGiven(invocation, 'system')) return null;
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved, bench.diagnostics);
  const loaded = await loadHeldBases(resolved);
  if (!loaded.ok) return bench.take(loaded);
  if (loaded.value.setup !== null) log.models(loaded.value.setup);
  return loaded.value;
}

/** What the recordings hold. Problems stop the run. */
export async function auditOf(
  bench: Workbench,
  log: RunLog,
  { dateMs }: StreamOptions,
  held: HeldBases | null,
): Promise<CorrectionAudit> {
  const { invocation, context, progress } = bench;
  progress.update('reading');
  const { count, files } = bench.take(await readStreams(invocation.args, context, bench.breathe));
  for (const { source, frames } of files) log.input(source, 'correction stream', frames.good, frames.failed);
  const audit = count.result(dateMs, held?.ellipsoid ?? WGS84);
  if (dateMs !== null && audit.calendar.zeroMs === null)
    bench.take(
      failure(
        errorProblem('stream-date', {
          message: 'the stream does not begin on the day of the week of --date',
          hint: 'give the date, in UTC, of the first epoch; without --date the day of the week is printed',
        }),
      ),
    );
  return audit;
}
