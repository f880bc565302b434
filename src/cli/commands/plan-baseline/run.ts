import { requiredSeparationS } from '../../../core/observation/repeats/repeat-test.js';
import type { TimetablePoint } from '../../../core/planning/time/timetable.js';
import { failure } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import { workingText } from '../../../tasks/explain/explain-point.js';
import { drawnTolerances, planRings } from '../../../tasks/plan/coverage-shapes.js';
import { explainPlan } from '../../../tasks/plan/explain-plan.js';
import { placeBases } from '../../../tasks/plan/place-bases.js';
import { planDays, timetablePoint } from '../../../tasks/plan/plan-days.js';
import type { PlanDay } from '../../../tasks/plan/plan-days.js';
import type { PlanSetup } from '../../../tasks/plan/plan-target.js';
import { createPlanTotals } from '../../../tasks/plan/plan-totals.js';
import { predictTargets } from '../../../tasks/plan/predict-targets.js';
import type { PlannedTarget } from '../../../tasks/plan/predict-targets.js';
import { toleranceRanges } from '../../../tasks/plan/tolerance-ranges.js';
import { numberOption, textOption, textsGiven } from '../../shell/command-spec.js';
import type { CommandRun } from '../../shell/command-spec.js';
import { inputPaths } from '../../inputs/input-paths.js';
import { geojsonFrameProblem } from '../../outputs/geojson-frame.js';
import { createCoverageWriter } from './say/plan-coverage.js';
import { isGeojson, readCandidates, readControl, readPlanInput } from './options/plan-inputs.js';
import type { PlanInputSettings } from './options/plan-inputs.js';
import { openPlanOutputs } from './say/plan-outputs.js';
import { checkBasePlace } from './options/plan-place.js';
import { overridePlanSettings } from './options/plan-settings.js';
import { checkPlanOptions, loadPlan, sitingOf, sitingQuestion } from './options/plan-setup-load.js';
import type { LoadedPlan } from './options/plan-setup-load.js';
import { planStream, USUAL_HOURS } from './options/plan-stream.js';
import { planCautions, siteCautions } from './say/plan-cautions.js';
import { PLAN_METHODS } from './options/plan-methods.js';
import { planNotes } from './options/plan-notes.js';
import { planSummary } from './say/plan-summary.js';
import { planTargets } from './options/plan-targets.js';
import { planTime, timetableSettings, timetableText } from './options/plan-timetable.js';
import { createPlanWriter } from './say/plan-writer.js';

import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import { createRejects } from '../../outputs/rejects.js';
import { createRunLog } from '../../shell/run-log.js';
import type { RunLog } from '../../shell/run-log.js';
import { resolveSession } from '../../inputs/session-settings.js';
import { StopError } from '../../shell/stop.js';
import { tableOptions } from '../../inputs/table-options.js';
import { withWorkbench } from '../../shell/workbench.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import type { RunAnswer } from '../../../records/run-answer.js';
import { endWith } from '../../shell/run-end.js';

/** Targets are formatted and written in batches of this many. */
const BATCH = 500;
const RING_VERTICES = 180;

/** Before driving out; see `planBaselineSpec`. */
export const runPlanBaseline: CommandRun = (invocation, context) => {
  const sidecars = textsGiven(invocation, ['session', 'candidates', 'control']);
  const inputs = inputPaths([...invocation.args, ...sidecars], context.cwd);
  const log = createRunLog(invocation, context);
  return withWorkbench(invocation, context, inputs, (bench) => plan(bench, log), log.failure);
};

async function plan(bench: Workbench, log: RunLog): Promise<RunEnd> {
  const { invocation, context, diagnostics } = bench;
  const path = inputName(bench);
  bench.take(checkPlanOptions(invocation));
  const question = bench.take(sitingQuestion(invocation));
  const time = bench.take(planTime(invocation));
  const resolved = bench.take(overridePlanSettings(bench.take(await resolveSession(invocation, context)), invocation));
  log.session(resolved);
  const tables = bench.take(tableOptions(invocation, resolved.session.columns));
  const sidePaths = [textOption(invocation, 'candidates'), textOption(invocation, 'control')].filter(
    (name) => name !== null,
  );
  const onlyGeojson = [path, ...sidePaths].every(isGeojson);
  const loaded = bench.take(await loadPlan(resolved, invocation, onlyGeojson));
  if (question.kind === 'given') bench.take(checkBasePlace(question.base, loaded));
  const day = bench.take(timetableSettings(invocation, time, loaded.setup.prediction.epochCount));
  bench.take(planStream(invocation, 0));
  for (const [key, origin] of Object.entries(resolved.origins)) diagnostics.detail(`pegbook: ${key} from ${origin}`);
  const usesGeojson =
    bench.format === 'geojson' || textOption(invocation, 'coverage') !== null || [path, ...sidePaths].some(isGeojson);
  const datum = usesGeojson ? geojsonFrameProblem(loaded.fixesSystem) : null;
  if (datum !== null) throw new StopError([datum]);
  log.models({ fixesSystem: loaded.fixesSystem, grid: loaded.grid, geoid: loaded.geoid });

  const outputs = await openPlanOutputs(bench);
  const reportPath = textOption(invocation, 'report');
  const page =
    reportPath === null
      ? null
      : await (await import('./say/plan-report-write.js')).openPlanReport(reportPath, bench, log);
  const reading: PlanInputSettings = {
    tables,
    grid: loaded.grid,
    needs: { position: loaded.grid === null ? 'geographic' : 'any', height: 'none' },
  };
  const rejects = createRejects(outputs.rejects, tables.dialect.delimiter);
  const input = await readPlanInput(path, reading, loaded, bench, log, rejects);
  const candidates = 'path' in question ? await readCandidates(question.path, reading, loaded, bench, log) : [];
  const controlPath = textOption(invocation, 'control');
  const control = controlPath === null ? [] : await readControl(controlPath, reading, loaded, bench, log);
  const setup: PlanSetup = { ...loaded.setup, siting: bench.take(sitingOf(question, candidates, invocation)) };
  const targets = bench.take(
    planTargets(setup.geodesic, input, numberOption(invocation, 'spacing'), resolved.session.tolerance),
  );
  const explain = textOption(invocation, 'explain');
  if (explain !== null && !targets.some(({ id }) => id === explain))
    bench.take(
      failure(
        errorProblem('value-unknown-id', { message: `there is no point ${explain} to explain`, received: explain }),
      ),
    );
  bench.progress.update('looking for the best bases');
  const placed = bench.take(placeBases(setup, targets));
  const ranges = toleranceRanges(setup, targets);

  const names = systemNames(loaded);
  const writer = createPlanWriter(
    bench.format,
    { ...names, conditions: setup.conditions, placed, targets, ranges },
    {
      grid: loaded.grid,
      hasShapes: input.shapes.length > 0,
      hasBaseError: setup.baseErrorM !== null,
      passThroughNames: input.passThroughNames,
      csv: csvWriteOptions(invocation),
    },
  );
  diagnostics.report(writer.notes);
  const coverage = createCoverageWriter(setup.geodesic, names.frame);
  const drawn = drawnTolerances(ranges);
  await outputs.points?.write(writer.begin());
  if (outputs.coverage !== null)
    await outputs.coverage.write(
      coverage.begin(placed.bases, bench.take(planRings(setup.geodesic, placed.bases, drawn, RING_VERTICES))),
    );

  const totals = createPlanTotals();
  const work = new Map<string, TimetablePoint[]>();
  let batch: PlannedTarget[] = [];
  const flush = async (): Promise<void> => {
    bench.breathe();
    bench.progress.update(`predicting: ${String(totals.targets())} of ${String(targets.length)}`);
    await outputs.points?.write(writer.points(batch));
    if (outputs.coverage !== null) await outputs.coverage.write(batch.map(coverage.target).join(''));
    batch = [];
  };
  for (const planned of predictTargets(setup, targets, placed)) {
    totals.add(planned);
    page?.add(planned);
    batch.push(planned);
    if (day !== null && planned.target.kind === 'point') addWork(work, planned, setup);
    if (planned.target.id === explain)
      await outputs.explain?.write(workingText(`Plan for ${planned.target.id}`, explainPlan(planned, setup)));
    if (batch.length >= BATCH) await flush();
  }
  await flush();

  const stream = bench.take(planStream(invocation, totals.longestBaselineM()));
  const days: readonly PlanDay[] =
    day === null ? [] : bench.take(planDays(setup.geodesic, placed.bases, work, control, day));
  const cautions = planCautions(
    placed,
    siteCautions(setup.siting, placed),
    time,
    numberOption(invocation, 'hours') ?? USUAL_HOURS,
    stream,
    days,
  );
  const answer: RunAnswer = {
    answer: totals.outside() > 0 || input.rejected > 0 ? 'no' : totals.reobserve() > 0 ? 'review' : 'within',
    verdicts: new Map([
      ['within', totals.targets() - totals.outside()],
      ['outside', totals.outside()],
    ]),
    reasons: totals.reasons,
  };
  await outputs.points?.write(writer.end(stream, cautions, answer.answer));
  await outputs.coverage?.write(coverage.end());
  await outputs.timetable?.write(timetableText(days, csvWriteOptions(invocation)));
  for (const line of planSummary({
    setup,
    targets,
    placed,
    ranges,
    totals,
    stream,
    days,
    cautions,
    notes: planNotes(
      input.rejected,
      outputs.coverage !== null && drawn.length < ranges.length,
      day !== null && targets.some(({ kind }) => kind !== 'point'),
    ),
  }))
    diagnostics.say(line);
  await page?.write({
    setup,
    grid: loaded.grid,
    bases: placed.bases,
    ranges,
    totals,
    days: day === null ? null : days,
    stream,
    cautions,
    title: resolved.session.title,
    frameName: `${loaded.fixesSystem.code ?? ''} ${loaded.fixesSystem.name}`.trim(),
    answer: answer.answer,
  });
  for (const method of PLAN_METHODS) log.method(method);
  return endWith(answer, invocation, log);
}

/** The input named; standard input only when it is named or piped in. */
function inputName({ invocation, context }: Workbench): string {
  const named = invocation.args[0];
  if (named !== undefined) return named;
  if (context.stdin.isTTY !== true) return '-';
  throw new StopError([
    errorProblem('usage-invalid', {
      message: 'no input is named',
      hint: 'pegbook plan-baseline FILE --base LAT,LON; pegbook help plan-baseline shows more',
    }),
  ]);
}

/** A work point goes into the day of its own base, and a tie into that of the other base as well. */
function addWork(work: Map<string, TimetablePoint[]>, planned: PlannedTarget, { limits }: PlanSetup): void {
  const point = timetablePoint(planned, (baselineM) => limits.separationS ?? requiredSeparationS(baselineM));
  const add = (baseId: string, own: TimetablePoint): void => {
    work.set(baseId, [...(work.get(baseId) ?? []), own]);
  };
  add(planned.base.id, point);
  for (const other of new Set(planned.tieBases)) add(other, { ...point, occupations: 1 });
}

function systemNames({ fixesSystem, grid }: LoadedPlan): { readonly system: string; readonly frame: string } {
  return { frame: fixesSystem.code ?? fixesSystem.name, system: grid?.code ?? grid?.name ?? '' };
}
