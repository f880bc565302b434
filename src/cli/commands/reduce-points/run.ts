import type { DayReduction } from '../../../files/reduction/prepare-day.js';
import { createInputCheck } from '../../../files/reduction/repeated-input.js';
import { entryAt } from '../../../records/present.js';
import { flagOption, listOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { neededDays } from '../../../tasks/job/needed-days.js';
import { createRejects } from '../../outputs/rejects.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { StopError } from '../../shell/run/stop.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { endChecked } from './end-checked.js';
import { finishRun } from './finish-run.js';
import { openRun } from './open-run.js';
import { prepareRun } from './prepare-run.js';
import { reduceInputs } from './reduce-inputs.js';
import { setUpReferred } from './set-up-day.js';

/** The main job; see `reducePointsSpec`. */
export const runReducePoints: CommandRun = (invocation, context) => {
  const sidecars = [
    ...listOption(invocation, 'navigation'),
    ...textsGiven(invocation, ['session', 'occupations', 'job', 'masks']),
  ];
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => reduce(bench, log), log.failure);
};

async function reduce(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const run = await prepareRun(bench, log);
  const opened = await openRun(bench, log, run);
  const { flow, outputs, page, sky, readDays, setups } = opened;
  const rejects = createRejects(outputs.rejects, entryAt(run.days, 0).tables.dialect.delimiter);
  await flow.begin();
  const stage = {
    run,
    flow,
    outputs,
    rejects,
    first: opened.first,
    names: opened.names,
    checkInput: createInputCheck(),
  };
  const isCheck = flagOption(bench.invocation, 'checkOnly');
  const needed = run.job === null ? new Set<string>() : neededDays(run.job.job);
  let failed = false;
  const used: DayReduction[] = [];
  for (const [index, read] of readDays.entries()) {
    const setup = setups[index] ?? (await setUpReferred(bench, log, run, read.day, flow.days));
    used.push(setup);
    const day = flow.openDay(read.day.id, setup, {
      share: run.share,
      edits: run.edits,
      // A base that is known by this day has no coordinate before it is reduced.
      isOnlyChecked: isCheck && (read.day.id === null || !needed.has(read.day.id)),
    });
    failed = (await reduceInputs(bench, log, stage, read, day)) || failed;
    for (const interval of read.withoutEpochs()) day.miss(interval);
  }
  if (failed && run.days.some(({ tables }) => tables.onError === 'stop')) throw new StopError([]);
  if (isCheck) return endChecked(bench, log, { run, sky, skipped: rejects.count() });
  return finishRun(bench, log, { run, setups: used, flow, outputs, page, sky, skipped: rejects.count() });
}
