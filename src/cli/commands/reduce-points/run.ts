import { textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { finishRun } from './finish-run.js';
import { reductionInputs } from './options/fix-settings.js';
import { passThroughNames } from './options/pass-through.js';
import { prepareRun } from './prepare-run.js';
import { reduceInputs } from './reduce-inputs.js';
import { openFlow } from './reduction-flow.js';
import { openOutputs } from './say/reduction-outputs.js';
import { createRejects } from '../../outputs/rejects.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { StopError } from '../../shell/stop.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';

/** The main job; see `reducePointsSpec`. */
export const runReducePoints: CommandRun = (invocation, context) => {
  const sidecars = textsGiven(invocation, ['session', 'occupations']);
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => reduce(bench, log), log.failure);
};

async function reduce(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation } = bench;
  const run = await prepareRun(bench, log);
  const outputs = await openOutputs(bench);
  const reportPath = textOption(invocation, 'report');
  const page =
    reportPath === null
      ? null
      : await (
          await import('./say/reduction-report.js')
        ).openReductionReport(reportPath, bench, run.setup, run.resolved, log);
  const { settings, withoutEpochs } = bench.take(
    reductionInputs(invocation, run.paths, run.tables, run.occupations, run.setup),
  );
  const { first, names } = await passThroughNames(run.paths, settings, bench);
  const flow = openFlow(bench, run, outputs, page, names);
  const rejects = createRejects(outputs.rejects, run.tables.dialect.delimiter);
  await flow.begin();
  const failed = await reduceInputs(bench, log, { run, flow, outputs, rejects, settings, first, names });
  if (failed && run.tables.onError === 'stop') throw new StopError([]);
  return finishRun(bench, log, { run, flow, outputs, page, withoutEpochs: withoutEpochs(), skipped: rejects.count() });
}
