import type { WorkedPoint } from '../../../../records/working-step.js';
import { planPage } from '../../../../report/plan/plan-page.js';
import type { PlanReportStream } from '../../../../records/reports/plan-report.js';
import { createPlanReportCollector } from '../../../../tasks/plan/report/plan-report.js';
import type { LoadedPlan } from '../../../../files/plan/load-plan.js';
import type { PlanSetup } from '../../../../tasks/plan/targets/plan-target.js';
import type { PlanEnd, PlanRun } from '../../../../tasks/plan/run-plan.js';
import type { PlannedTarget } from '../../../../tasks/plan/targets/predict-targets.js';
import { pageFacts } from '../../../outputs/page-facts.js';
import { textOption } from '../../../shell/command-spec.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { PlanStream } from '../../../../tasks/plan/plan-stream.js';

/** What the page of a plan is made from beside its targets. */
export interface PlanPageParts {
  readonly setup: PlanSetup;
  readonly loaded: Pick<LoadedPlan, 'fixesSystem' | 'grid'>;
  readonly run: Pick<PlanRun, 'placed' | 'ranges'>;
  readonly end: PlanEnd;
  readonly title: string | null;
  /** Days asked for at each base; null: no timetable. */
  readonly dayCount: number | null;
  /** What --explain works through; empty without it. */
  readonly worked: readonly WorkedPoint[];
}

/** The page of a plan, gathered while it is made. */
export interface PlanReportWriter {
  readonly add: (planned: PlannedTarget) => void;
  readonly write: (parts: PlanPageParts) => Promise<void>;
}

/** Opens the page of --report. Loaded only where one is asked for. */
export async function openPlanReport(path: string, bench: Workbench, log: RunLog): Promise<PlanReportWriter> {
  const sink = await bench.openPage(path);
  const collector = createPlanReportCollector(textOption(bench.invocation, 'explain'));
  return {
    add: (planned) => void bench.draw(() => collector.add(planned)),
    async write({ setup, loaded, run, end, title, dayCount, worked }) {
      const { fixesSystem, grid } = loaded;
      const { totals, days, cautions } = end;
      const about = {
        title,
        // A system without a code goes by its name.
        frameName: `${fixesSystem.code ?? ''} ${fixesSystem.name}`.trim(),
        answer: end.answer.answer,
        ...pageFacts(bench, log),
        worked,
      };
      const stream = end.stream === null ? null : streamOf(end.stream);
      const { bases } = run.placed;
      const results = {
        setup,
        grid,
        bases,
        ranges: run.ranges,
        siting: run.placed,
        totals,
        days,
        dayCount,
        stream,
        cautions,
      };
      // Where the drawing fails that is said at the end, and no page appears.
      await sink.write(bench.draw(() => planPage(collector.report(results, about))) ?? '');
    },
  };
}

function streamOf({ kind, rateHz, hours, rovers, cost }: PlanStream): PlanReportStream {
  const { messages, ...sizes } = cost;
  return {
    ...sizes,
    kind,
    rateHz,
    hours,
    rovers,
    messages: messages.map(({ constellation, frameBytes }) => ({ constellation, bytes: frameBytes })),
  };
}
