import { nothingToExplain } from '../../outputs/nothing-to-explain.js';
import { planTargets } from '../../../tasks/plan/targets/plan-targets.js';
import type { PlanSetup } from '../../../tasks/plan/targets/plan-target.js';
import { startPlan } from '../../../tasks/plan/run-plan.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { createRejects } from '../../outputs/rejects.js';
import { numberOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { endWith } from '../../shell/run/run-end.js';
import { createRunLog } from '../../shell/run/run-log.js';
import type { RunLog } from '../../shell/run/run-log.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { readCandidates, readControl, readPlanInput } from './options/plan-inputs.js';
import { PLAN_METHODS } from './options/plan-methods.js';
import { sitingOf } from './options/siting-options.js';
import { skyWindowsOf } from './options/sky-windows.js';
import { openPlanFlow } from './plan-flow.js';
import { preparePlan } from './prepare-plan.js';
import { planNotes } from './say/plan-notes.js';
import { openPlanOutputs } from './say/plan-outputs.js';
import { planSummary } from './say/plan-summary.js';

/** Before driving out; see `planBaselineSpec`. */
export const runPlanBaseline: CommandRun = (invocation, context) => {
  const sidecars = textsGiven(invocation, ['session', 'candidates', 'control', 'streamFrom', 'skyWindows']);
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => plan(bench, log), log.failure);
};

async function plan(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const prepared = await preparePlan(bench, log);
  const { loaded, reading, resolved, explain, time, hours, stream } = prepared;
  const outputs = await openPlanOutputs(bench);
  const reportPath = textOption(invocation, 'report');
  const page =
    reportPath === null
      ? null
      : await (await import('./say/plan-report-write.js')).openPlanReport(reportPath, bench, log);
  const rejects = createRejects(outputs.rejects, reading.tables.dialect.delimiter);
  const input = await readPlanInput(prepared.path, reading, bench, log, rejects);
  const candidates = await readCandidates(reading, bench, log);
  const control = await readControl(reading, bench, log);
  const siting = bench.take(sitingOf(prepared.question, candidates, invocation));
  const setup: PlanSetup = { ...loaded.setup, siting };
  const { tolerance, title } = resolved.session;
  const targets = bench.take(planTargets(setup.geodesic, input, numberOption(invocation, 'spacing'), tolerance));
  if (explain !== null && !targets.some(({ id }) => id === explain)) nothingToExplain(bench, explain);
  bench.progress.update('looking for the best bases');
  const day =
    prepared.day === null
      ? null
      : { settings: prepared.day, control, windows: await skyWindowsOf(bench, log, targets) };
  const run = bench.take(startPlan({ setup, targets, rowsRejected: input.rejected, time, hours, day, stream }));
  const flow = openPlanFlow({ prepared, input, setup, targets, run }, outputs, bench);
  await flow.begin();
  for (const planned of run.predicted()) {
    page?.add(planned);
    await flow.add(planned);
  }
  const end = bench.take(run.end());
  await flow.end(end);
  const notes = planNotes(input, outputs.coverage !== null, day !== null, run.ranges);
  if (outputs.points !== null || outputs.explain === null)
    for (const line of planSummary({ setup, targets, run, end, notes })) diagnostics.say(line);
  await page?.write({ setup, loaded, run, end, title, dayCount: prepared.day?.dayCount ?? null, worked: flow.worked });
  for (const method of PLAN_METHODS) log.method(method);
  return endWith(end.answer, invocation, log);
}
