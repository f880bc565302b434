import type { PlanSetup, PlanTarget } from '../../../tasks/plan/targets/plan-target.js';
import { drawnTolerances, planRings } from '../../../tasks/plan/targets/coverage-shapes.js';
import { explainPlan } from '../../../tasks/plan/explain-plan.js';
import type { WorkedPoint } from '../../../records/working-step.js';
import type { PlannedTarget } from '../../../tasks/plan/targets/predict-targets.js';
import type { PlanEnd, PlanRun } from '../../../tasks/plan/run-plan.js';
import { writeWorked } from '../../outputs/write-worked.js';
import { csvWriteOptions } from '../../outputs/csv-write-options.js';
import type { Workbench } from '../../shell/workbench.js';
import { present } from '../../../records/present.js';
import type { PlanInput } from './options/plan-inputs.js';
import type { PreparedPlan } from './prepare-plan.js';
import { createCoverageWriter } from './say/plan-coverage.js';
import type { PlanOutputs } from './say/plan-outputs.js';
import { createPlanWriter } from './say/plan-writer.js';
import { timetableText } from './say/timetable-text.js';

/** Targets are formatted and written in batches of this many: what is alive when memory is cleared of what died young is copied, twice at most, and then takes room until all of it is gone through. */
const BATCH = 16;
const RING_VERTICES = 180;

/** A plan on its way to its outputs. */
export interface PlanFlow {
  readonly begin: () => Promise<void>;
  readonly add: (planned: PlannedTarget) => Promise<void>;
  readonly end: (end: PlanEnd) => Promise<void>;
  /** What --explain works through, so far. */
  readonly worked: readonly WorkedPoint[];
}

/** What a plan is written from. */
export interface PlanParts {
  readonly prepared: PreparedPlan;
  readonly input: PlanInput;
  readonly setup: PlanSetup;
  readonly targets: readonly PlanTarget[];
  readonly run: PlanRun;
}

/** Opens the way of targets to the outputs, and says which columns of the input are renamed on it. */
export function openPlanFlow(parts: PlanParts, outputs: PlanOutputs, bench: Workbench): PlanFlow {
  const { prepared, input, setup, targets, run } = parts;
  const { placed, ranges } = run;
  const { fixesSystem, grid } = prepared.loaded;
  const frame = fixesSystem.code ?? fixesSystem.name;
  const csv = csvWriteOptions(bench.invocation);
  const writer = createPlanWriter(
    bench.format,
    // Without a grid none is named.
    { frame, system: grid?.code ?? grid?.name ?? '', conditions: setup.conditions, placed, targets, ranges },
    {
      grid,
      hasShapes: input.shapes.length > 0,
      hasBaseError: setup.baseErrorM !== null,
      passThroughNames: input.passThroughNames,
      csv,
    },
  );
  bench.diagnostics.report(writer.notes);
  bench.columns(writer.columns);
  const coverage = createCoverageWriter(setup.geodesic, frame);
  let count = 0;
  let batch: PlannedTarget[] = [];
  const worked: WorkedPoint[] = [];
  const flush = async (): Promise<void> => {
    bench.breathe();
    count += batch.length;
    bench.progress.update(`predicting: ${String(count)} of ${String(targets.length)}`);
    await outputs.points?.write(writer.points(batch));
    if (outputs.coverage !== null) await outputs.coverage.write(batch.map(coverage.target).join(''));
    batch = [];
  };
  return {
    worked,
    async begin() {
      await outputs.points?.write(writer.begin());
      if (outputs.coverage === null) return;
      const rings = planRings(setup.geodesic, placed.bases, drawnTolerances(ranges), RING_VERTICES);
      await outputs.coverage.write(coverage.begin(placed.bases, bench.take(rings)));
    },
    async add(planned) {
      batch.push(planned);
      const { id } = planned.target;
      if (id === prepared.explain) worked.push({ title: `Plan for ${id}`, steps: explainPlan(planned, setup) });
      if (batch.length >= BATCH) await flush();
    },
    async end({ stream, cautions, answer, days }) {
      await flush();
      await writeWorked(outputs.explain, worked);
      await outputs.points?.write(writer.end(stream, cautions, answer));
      await outputs.coverage?.write(coverage.end());
      await outputs.timetable?.write(timetableText(present(days, 'the days of --timetable'), csv));
    },
  };
}
