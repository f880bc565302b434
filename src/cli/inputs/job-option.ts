import { loadJob } from '../../files/job/load-job.js';
import type { JobInPlace } from '../../files/job/load-job.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import { entryAt } from '../../records/present.js';
import { isGiven, textOption } from '../shell/command-spec.js';
import type { Invocation, OptionName } from '../shell/command-spec.js';
import type { RunLog } from '../shell/run/run-log.js';
import type { Workbench } from '../shell/workbench.js';

/** An option that a job says itself, as it is typed. */
export type TakenByJob = readonly [OptionName, string];

/**
 * The job of --job, or null without it. `taken`: options that say what the job says; `takesFiles`: whether inputs may be
 * named beside it.
 * Problems: usage-conflict; those of `loadJob`.
 */
export async function jobFromOption(
  invocation: Invocation,
  cwd: string,
  taken: readonly TakenByJob[],
  takesFiles: boolean,
): Promise<Outcome<JobInPlace | null>> {
  const path = textOption(invocation, 'job');
  if (path === null) return success(null);
  const other = taken.find(([name]) => isGiven(invocation, name));
  if (other !== undefined)
    return failure(
      errorProblem('usage-conflict', {
        message: `--job and ${other[1]} both say what the work is`,
        hint: `leave ${other[1]} out, or write it into the job file`,
      }),
    );
  if (!takesFiles && invocation.args.length > 0)
    return failure(
      errorProblem('usage-conflict', {
        message: `--job names the fixes of its days, and ${entryAt(invocation.args, 0)} is named too`,
        hint: 'add it to the fixes of a [[day]]',
      }),
    );
  return loadJob(path, cwd);
}

/** Writes the files and the people of --job into the record and the page of a run that takes single values from it. Stops the run as `jobFromOption` says. */
export async function logJob({ invocation, context, take }: Workbench, log: Pick<RunLog, 'job'>): Promise<void> {
  const job = take(await jobFromOption(invocation, context.cwd, [], true));
  if (job !== null) log.job(job);
}
