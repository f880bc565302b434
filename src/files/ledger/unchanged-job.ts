import { failureOf } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { verifyJob } from './verify-job.js';
import type { VerifiedJob } from './verify-job.js';

/** A job that is as its ledger says. Problems: those of `verifyJob`; each change that it finds. */
export async function unchangedJob(name: string, cwd: string): Promise<Outcome<VerifiedJob>> {
  const job = await verifyJob(name, cwd, null);
  if (!job.ok || job.value.changes.length === 0) return job;
  const { ledger, changes } = job.value;
  return failureOf(
    changes.map(({ code, line, name: file, said }) =>
      errorProblem(code, {
        message: said,
        where: file === null ? { source: ledger, ...(line !== null && { line }) } : { source: file },
        hint: 'nothing is delivered until verify-job finds nothing',
      }),
    ),
  );
}
