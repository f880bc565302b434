import { WGS84 } from '../../../core/ellipsoid/ellipsoid.js';
import { loadHeldBases } from '../../../files/corrections/load-held-bases.js';
import type { HeldBases } from '../../../files/corrections/load-held-bases.js';
import { readStreams } from '../../../files/corrections/read-streams.js';
import type { CorrectionAudit } from '../../../records/corrections/correction-audit.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { resolveSession } from '../../inputs/session-settings.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import { isGiven } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { Workbench } from '../../shell/workbench.js';
import type { StreamOptions } from './stream-options.js';

/** The session that counts, and its bases. */
export interface SessionInForce {
  readonly resolved: ResolvedSession;
  /** Null: neither a session nor a system is named. */
  readonly held: HeldBases | null;
}

/** Reads --session or --job with the options laid over it; the defaults where neither is named. */
export async function sessionInForce(bench: Workbench, log: RunLog): Promise<SessionInForce> {
  const { invocation, context } = bench;
  const resolved = bench.take(await resolveSession(invocation, context));
  log.session(resolved, bench.diagnostics);
  if (!(['session', 'job', 'system'] as const).some((name) => isGiven(invocation, name)))
    return { resolved, held: null };
  const loaded = await loadHeldBases(resolved, resolved.dates);
  if (!loaded.ok) return bench.take(loaded);
  if (loaded.value.setup !== null) log.models(loaded.value.setup, bench.diagnostics);
  return { resolved, held: loaded.value };
}

/** What the streams hold. Problems stop the run. */
export async function auditOf(
  bench: Workbench,
  log: RunLog,
  { dateMs }: StreamOptions,
  { held }: SessionInForce,
): Promise<CorrectionAudit> {
  const { invocation, context, progress } = bench;
  progress.update('reading streams');
  const { count, files } = bench.take(await readStreams(invocation.args, context, bench.breathe));
  for (const { source, frames } of files) log.input(source, 'correction stream', frames.good, frames.damaged);
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
