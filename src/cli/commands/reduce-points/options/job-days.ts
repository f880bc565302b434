import { surveyCrew } from '../../../../tasks/pages/survey-crew.js';
import type { JobInPlace } from '../../../../files/job/load-job.js';
import { sessionOfDay } from '../../../../files/job/session-of-day.js';
import { pushAll } from '../../../../core/numeric/push-all.js';
import { failureOf, success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import type { JobDay } from '../../../../records/runs/job.js';
import type { Problem } from '../../../../records/problem.js';
import { flagOption } from '../../../shell/command-spec.js';
import { gridReading } from '../../../inputs/grid-reading.js';
import type { TakenByJob } from '../../../inputs/job-option.js';
import { withOptions } from '../../../inputs/session-settings.js';
import { tableOptions } from '../../../inputs/table-options.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { RunDay } from '../prepare-run.js';
import { logTables } from './log-tables.js';
import { isReferred } from '../../../../tasks/job/known-from-day.js';
import { openOccupations } from './open-occupations.js';

/** What a job says itself, and a part of one file cannot be taken of. */
export const TAKEN_BY_JOB: readonly TakenByJob[] = [
  ['session', '--session'],
  ['occupations', '--occupations'],
  ['rows', '--rows'],
  ['workers', '--workers'],
];

/** The days of a job, each with the options of the command line laid over its session. Problems: those of each day. */
export async function jobDays(bench: Workbench, log: RunLog, job: JobInPlace): Promise<Outcome<readonly RunDay[]>> {
  log.job(job);
  const days: RunDay[] = [];
  const problems: Problem[] = [];
  let firstSource = 0;
  for (const [index, day] of job.job.days.entries()) {
    const made = await runDay(bench, log, job, day, index, firstSource);
    if (made.ok) days.push(made.value);
    else pushAll(problems, made.problems);
    firstSource += day.fixes.length;
  }
  return problems.length > 0 ? failureOf(problems) : success(days);
}

async function runDay(
  bench: Workbench,
  log: RunLog,
  { job, folder, origins }: JobInPlace,
  day: JobDay,
  index: number,
  firstSource: number,
): Promise<Outcome<RunDay>> {
  const { invocation, context } = bench;
  const { id, fixes, session } = day;
  const stated = {
    ...sessionOfDay({ job, folder }, day, gridReading(invocation, context.signal)),
    origins: origins[index] ?? {},
    file: null,
    crew: surveyCrew(job.people, [session]),
  };
  const resolved = withOptions(stated, invocation, context.cwd);
  if (!resolved.ok) return resolved;
  const tables = tableOptions(invocation, session);
  if (!tables.ok) return tables;
  const surroundings = { cwd: folder, stdin: context.stdin };
  const occupations = await openOccupations(day.occupations, surroundings);
  if (!occupations.ok) return occupations;
  if (occupations.value !== null)
    log.input(occupations.value.source, 'occupations', occupations.value.intervals.length, 0);
  // A base known by an earlier day has no coordinate yet: such a day is recorded when it has.
  if (!resolved.value.session.bases.some(isReferred)) log.session(resolved.value, bench.diagnostics);
  logTables(log, tables.value, resolved.value, id);
  return success(
    {
      id,
      paths: fixes,
      firstSource,
      surroundings,
      resolved: resolved.value,
      tables: tables.value,
      occupations: occupations.value?.intervals ?? null,
      acceptsBaseShift: flagOption(invocation, 'acceptBaseShift'),
    },
    occupations.problems,
  );
}
