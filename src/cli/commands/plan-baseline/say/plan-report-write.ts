import { planPage } from '../../../../report/plan/plan-page.js';
import type { PlanReportStream } from '../../../../records/reports/plan-report.js';
import { createPlanReportCollector } from '../../../../tasks/plan/plan-report.js';
import type { PlanResults } from '../../../../tasks/plan/plan-report.js';
import type { PlannedTarget } from '../../../../tasks/plan/predict-targets.js';
import type { RunLog } from '../../../shell/run-log.js';
import { shownCommand } from '../../../shell/shown-command.js';
import { VERSION } from '../../../../records/version.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { PlanStream } from '../options/plan-stream.js';
import type { Answer } from '../../../../records/run-answer.js';

/** What the end of a plan adds to its page. */
export type PlanEnd = Omit<PlanResults, 'stream'> & {
  readonly stream: PlanStream | null;
  readonly title: string | null;
  readonly frameName: string;
  readonly answer: Answer;
};

/** The page of a plan, gathered while it is made. */
export interface PlanReportWriter {
  readonly add: (planned: PlannedTarget) => void;
  readonly write: (end: PlanEnd) => Promise<void>;
}

/** Opens the page of --report. Loaded only where one is asked for. */
export async function openPlanReport(path: string, bench: Workbench, log: RunLog): Promise<PlanReportWriter> {
  const sink = await bench.openPage(path);
  const collector = createPlanReportCollector();
  return {
    add: (planned) => void bench.draw(() => collector.add(planned)),
    async write({ title, frameName, answer, stream, ...results }) {
      const about = {
        title,
        frameName,
        answer,
        toolVersion: VERSION,
        timeMs: log.timeMs,
        command: shownCommand(bench.context.argv),
        files: log.inputs,
        warnings: bench.diagnostics.warnings(),
      };
      await sink.write(
        bench.draw(() =>
          planPage(collector.report({ ...results, stream: stream === null ? null : streamOf(stream) }, about)),
        ) ?? '',
      );
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
