import type { RunLog } from '../shell/run-log.js';
import type { Workbench } from '../shell/workbench.js';
import { jobFromOption } from './job-option.js';
import { resolveSession, sessionOfJob } from './session-settings.js';
import type { ResolvedSession } from './session-settings.js';

/**
 * The session of a run as `resolveSession` reads it, of a job with every base where it is known: one that is known by an earlier day takes what that day says, as
 * the reduction does. Problems stop the run.
 */
export async function knownSession(bench: Workbench, log: RunLog): Promise<ResolvedSession> {
  const { invocation, context } = bench;
  const job = bench.take(await jobFromOption(invocation, context.cwd, [['session', '--session']], true));
  if (job === null) return bench.take(await resolveSession(invocation, context));
  // Most jobs have no such base, and need nothing of a reduction.
  const { hasReferred, knownByDays } = await import('./known-by-days.js');
  const known = hasReferred(job.job) ? await knownByDays(bench, log, job) : job;
  return bench.take(sessionOfJob(known, invocation, context));
}
