import { resolve } from 'node:path';
import { isFile } from '../../io/bytes/is-file.js';
import type { RunLog } from '../shell/run/run-log.js';
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

/**
 * The session of a plan: as `knownSession` where the days that bases are known by were measured; where their fixes are not all
 * there, nothing says what those bases are known to, and their sigmas stay unstated.
 */
export async function plannedSession(bench: Workbench, log: RunLog): Promise<ResolvedSession> {
  const { invocation, context } = bench;
  const job = bench.take(await jobFromOption(invocation, context.cwd, [['session', '--session']], true));
  if (job === null) return bench.take(await resolveSession(invocation, context));
  const { neededDays } = await import('../../tasks/job/needed-days.js');
  const needed = neededDays(job.job);
  const fixes = job.job.days.flatMap(({ id, fixes: paths }) => (needed.has(id) ? paths : []));
  const areThere = await Promise.all(fixes.map((path) => isFile(resolve(job.folder, path))));
  if (needed.size === 0 || areThere.includes(false)) return bench.take(sessionOfJob(job, invocation, context));
  const { knownByDays } = await import('./known-by-days.js');
  return bench.take(sessionOfJob(await knownByDays(bench, log, job), invocation, context));
}
