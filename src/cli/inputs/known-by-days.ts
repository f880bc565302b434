import type { JobInPlace } from '../../files/job/load-job.js';
import { createInputCheck } from '../../files/reduction/repeated-input.js';
import { fixPlaces } from '../../files/reduction/fix-places.js';
import type { DayReduction } from '../../files/reduction/prepare-day.js';
import { openFlow } from '../../files/reduction/reduction-flow.js';
import type { Job } from '../../records/runs/job.js';
import { present } from '../../records/present.js';
import { isReferred } from '../../tasks/job/known-from-day.js';
import { neededDays } from '../../tasks/job/needed-days.js';
import { reductionInputs } from '../commands/reduce-points/options/fix-settings.js';
import { prepareRun } from '../commands/reduce-points/prepare-run.js';
import { reduceInputs } from '../commands/reduce-points/reduce-inputs.js';
import { setUpDay, setUpReferred } from '../commands/reduce-points/set-up-day.js';
import { csvWriteOptions } from '../outputs/csv-write-options.js';
import { createRejects } from '../outputs/rejects.js';
import type { Invocation, OptionName, OptionValue } from '../shell/command-spec.js';
import { createRunLog } from '../shell/run/run-log.js';
import type { RunLog } from '../shell/run/run-log.js';
import { unwrap } from '../shell/run/stop.js';
import type { Workbench } from '../shell/workbench.js';

/** Options of a run that a reduction of its job would have with the same meaning. */
const KEPT: readonly OptionName[] = [
  'job',
  'system',
  'fixesSystem',
  'geoid',
  'geoidInterpolation',
  'geoidFrame',
  'gridNodes',
];

/** Whether a base of a job is known by a point of an earlier day. */
export function hasReferred({ days }: Job): boolean {
  return days.some(({ session }) => session.bases.some(isReferred));
}

/**
 * A job whose bases all have coordinates: those that are known by an earlier day take what that day says of the point, as `reduce-points --job` does. Only the days
 * that are asked are reduced; their files stand in the record, and what a reduction would say of them is not said again.
 *
 * Given: what a command runs with; its log, which is told of the fixes; the job. Returned: the job, the coordinates filled in.
 * Problems stop the run: those of the reduction of these days and of `knownFromDay`.
 */
export async function knownByDays(bench: Workbench, log: RunLog, job: JobInPlace): Promise<JobInPlace> {
  const quiet = quietBench(bench);
  const silent: RunLog = {
    ...createRunLog(quiet.invocation, bench.context),
    input(source, kind, rowsUsed, rowsRejected, part) {
      log.input(source, kind, rowsUsed, rowsRejected, part);
    },
  };
  const run = await prepareRun(quiet, silent);
  const checkInput = createInputCheck();
  const needed = neededDays(job.job);
  const rejects = createRejects(null, ',');
  const csv = csvWriteOptions(quiet.invocation);
  let flow: ReturnType<typeof openFlow> | null = null;
  const bases = new Map<string, DayReduction['bases']>();
  for (const day of run.days) {
    const id = present(day.id, 'the day of a job');
    const isAsked = day.resolved.session.bases.some(isReferred);
    if (!isAsked && !needed.has(id)) continue;
    // The day that a base is known by comes before it.
    const before: ReturnType<typeof openFlow>['days'] = flow?.days ?? [];
    const setup = isAsked
      ? await setUpReferred(quiet, silent, run, day, before)
      : await setUpDay(quiet, silent, run, day);
    if (isAsked) bases.set(id, setup.bases);
    if (!needed.has(id)) continue;
    flow ??= openFlow({
      format: 'csv',
      csv,
      isHeaded: false,
      isViewed: false,
      areEpochsViewed: false,
      isHeld: true,
      names: [],
      epochYear: null,
      setup,
      outputs: { points: null, epochs: null },
      epochs: { begin: () => '', occupation: () => '' },
      page: null,
      explain: null,
      report: () => undefined,
    });
    const own = flow.openDay(day.id, setup, { share: null, edits: run.edits, isOnlyChecked: false });
    const reading = quiet.take(reductionInputs(quiet.invocation, run.days, day, fixPlaces(setup)));
    const outputs = { points: null, explain: null, epochs: null, rejects: null };
    const stage = { run, flow, outputs, rejects, first: null, names: [], checkInput };
    await reduceInputs(quiet, silent, stage, { day, ...reading }, own);
    for (const interval of reading.withoutEpochs()) own.miss(interval);
  }
  const days = job.job.days.map((day) => {
    const known = bases.get(day.id);
    return known === undefined
      ? day
      : { ...day, session: { ...day.session, bases: known.map(({ settings }) => settings) } };
  });
  return { ...job, job: { ...job.job, days } };
}

/** The same bench without a word, for a reduction of the job: rows that its own reduction left out are left out. */
function quietBench(bench: Workbench): Workbench {
  const options: Partial<Record<OptionName, OptionValue>> = { onError: 'skip', acceptBaseShift: true };
  for (const name of KEPT) options[name] = bench.invocation.options[name];
  const invocation: Invocation = { args: [], options };
  const nothing = (): void => undefined;
  const diagnostics = { ...bench.diagnostics, say: nothing, report: nothing, detail: nothing, acknowledge: nothing };
  return {
    ...bench,
    invocation,
    diagnostics,
    format: 'csv',
    isViewed: () => false,
    columns: nothing,
    take: (outcome) => unwrap(outcome, nothing),
  };
}
