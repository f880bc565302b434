import { reductionPage } from '../../../../report/reduction/reduction-page.js';
import { createReductionReportCollector } from '../../../../tasks/reduce/collect-reduction-report.js';
import type { ReductionReportCollector } from '../../../../tasks/reduce/collect-reduction-report.js';
import type { FinishedPoints } from '../../../../tasks/join/held-points.js';
import type { PointRepeat, RepeatPair } from '../../../../tasks/repeats/repeat-pairs.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import type { ReductionTotals } from '../../../../tasks/reduce/reduction-totals.js';
import { shownCommand } from '../../../shell/shown-command.js';
import type { RunLog } from '../../../shell/run-log.js';
import { entryAt } from '../../../../records/present.js';
import type { PreparedRun } from '../prepare-run.js';
import { VERSION } from '../../../../records/version.js';
import type { Workbench } from '../../../shell/workbench.js';
import type { Answer } from '../../../../records/run-answer.js';

/** What the end of a run adds to its page. */
export interface ReductionEnd {
  /** Of the run, or of all days of a job. */
  readonly setup: ReductionSetup;
  readonly totals: ReductionTotals;
  /** Null where repeats were not joined, and then are not listed pair by pair. */
  readonly pairs: readonly RepeatPair[] | null;
  /** Null where repeats were not compared. */
  readonly repeats: readonly PointRepeat[] | null;
  /** What was said of a noisy day. */
  readonly day: readonly string[];
  /** What was said of occupations that a job left out or renamed. */
  readonly edits: readonly string[];
  /** Occupations whose uncertainty the day changed. */
  readonly revised: FinishedPoints['revised'];
  /** Occupations in doubt since all were known. */
  readonly disputed: FinishedPoints['disputed'];
  readonly answer: Answer;
  readonly rowsSkipped: number;
}

/** The page of a run, gathered while it runs. */
export interface ReductionReportWriter extends Pick<ReductionReportCollector, 'addOccupation' | 'addPoint'> {
  write(end: ReductionEnd): Promise<void>;
}

/** Opens the page of --report. Loaded only where one is asked for. */
export async function openReductionReport(
  path: string,
  bench: Workbench,
  run: PreparedRun,
  log: RunLog,
): Promise<ReductionReportWriter> {
  const sink = await bench.openPage(path);
  const collector = createReductionReportCollector();
  const { session } = entryAt(run.days, 0).resolved;
  const people = run.job?.job.people;
  return {
    addOccupation: (reduced, day) => void bench.draw(() => collector.addOccupation(reduced, day)),
    addPoint: (point) => void bench.draw(() => collector.addPoint(point)),
    async write({ setup, edits, totals, pairs, repeats, day, revised, disputed, answer, rowsSkipped }) {
      const about = {
        pointsRepeated: repeats?.length ?? null,
        // A part of the rows compares nothing.
        pointsInDispute: repeats?.filter(({ test }) => test.disagrees).length ?? 0,
        title: session.title,
        client: people?.client ?? null,
        surveyor: people?.surveyor ?? null,
        toolVersion: VERSION,
        timeMs: log.timeMs,
        command: shownCommand(bench.context.argv),
        day,
        edits,
        answer,
        rowsSkipped,
        conditions: session.precision.conditions,
        epochYear: session.system?.epochYear ?? null,
        files: log.inputs,
        warnings: bench.diagnostics.warnings(),
      };
      await sink.write(
        // Where the drawing fails that is said at the end, and no page appears.
        bench.draw(() => reductionPage(collector.report(setup, totals, { pairs, revised, disputed }, about))) ?? '',
      );
    },
  };
}
