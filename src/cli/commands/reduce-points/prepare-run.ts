import type { JobInPlace } from '../../../files/job/load-job.js';
import { phaseCentreMissing } from '../../../files/reduction/setup/phase-centre-missing.js';
import type { DayPlan } from '../../../files/reduction/prepare-day.js';
import { failure } from '../../../records/outcome.js';
import { createJobEdits } from '../../../tasks/job/job-edits.js';
import type { JobEdits } from '../../../tasks/job/job-edits.js';
import { textOption } from '../../shell/command-spec.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import type { TableOptions } from '../../inputs/table-options.js';
import type { Workbench } from '../../shell/workbench.js';
import { rowShare } from './blocks/row-share.js';
import type { RowShare } from './blocks/row-share.js';
import { heldOptions } from './options/held-options.js';
import type { HeldOptions } from './options/held-options.js';
import { inputNames } from './options/input-names.js';
import { onlyDay } from './options/only-day.js';
import { jobFromOption } from '../../inputs/job-option.js';
import { jobDays, TAKEN_BY_JOB } from './options/job-days.js';

/** A day as it is to be read and reduced. */
export interface RunDay extends DayPlan {
  readonly resolved: ResolvedSession;
  readonly tables: TableOptions;
}

/** What is asked of a reduction, before anything that it names is loaded. */
export interface PreparedRun {
  /** One without a job. */
  readonly days: readonly RunDay[];
  readonly job: JobInPlace | null;
  /** What the job changes of what was measured; null without one. */
  readonly edits: JobEdits | null;
  /** Names of all inputs, in their order. */
  readonly sources: readonly string[];
  /** The rows that are ours, with --rows; null: all. */
  readonly share: RowShare | null;
  readonly asked: HeldOptions;
}

/** Reads options, and the session or the job; all of it stands in the record. Stops where any of it is refused. */
export async function prepareRun(bench: Workbench, log: RunLog): Promise<PreparedRun> {
  const { invocation } = bench;
  const job = bench.take(await jobFromOption(invocation, bench.context.cwd, TAKEN_BY_JOB, false));
  const paths = job === null ? bench.take(inputNames(invocation, bench.context)) : [];
  const share = bench.take(rowShare(invocation, paths.length));
  const asked = bench.take(heldOptions(invocation));
  const days = job === null ? [await onlyDay(bench, log, paths)] : bench.take(await jobDays(bench, log, job));
  for (const day of days) {
    const missing = phaseCentreMissing(day.resolved.session, day.paths, textOption(invocation, 'input'));
    if (missing !== null) bench.take(failure(missing));
  }
  return {
    days,
    job,
    edits: job === null ? null : createJobEdits(job.job),
    sources: days.flatMap((day) => day.paths.map((path) => (path === '-' ? 'stdin' : path))),
    share,
    asked,
  };
}
