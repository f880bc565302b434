import { reductionPage } from '../../../../report/reduction/reduction-page.js';
import { createReductionReportCollector } from '../../../../tasks/reduce/totals/collect-reduction-report.js';
import type { ReductionReportCollector } from '../../../../tasks/reduce/totals/collect-reduction-report.js';
import type { FinishedPoints } from '../../../../tasks/join/held-points.js';
import type { PointRepeat, RepeatPair } from '../../../../tasks/repeats/repeat-pairs.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import type { ReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';
import { pageFacts } from '../../../outputs/page-facts.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import { entryAt } from '../../../../records/present.js';
import type { PreparedRun } from '../prepare-run.js';
import type { Workbench } from '../../../shell/workbench.js';
import { createReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';
import { reductionAnswer } from '../../../../tasks/reduce/totals/reduction-answer.js';
import type { OccupationSky } from '../../../../records/reports/parts/occupation-sky.js';
import type { ReducedPoint } from '../../../../records/points/reduced-point.js';
import type { WorkedPoint } from '../../../../records/working-step.js';
import { explainTarget } from '../options/explain-target.js';
import type { Answer } from '../../../../records/runs/run-answer.js';

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
  /** The sky over doubtful occupations; null: no navigation file is named. */
  readonly skies: readonly OccupationSky[] | null;
  /** What --explain prints; empty without it. */
  readonly worked: readonly WorkedPoint[];
}

/** The end of a run as far as it is that of one point. */
function ofOnePoint(
  end: ReductionEnd,
  totals: ReductionTotals,
  isShown: (point: Pick<ReducedPoint, 'pointId' | 'occupation'>) => boolean,
): ReductionEnd {
  const pairs = end.pairs?.filter(({ first, second }) => isShown(first) || isShown(second)) ?? null;
  const repeats =
    end.repeats?.filter(({ pointId, occupations }) =>
      occupations.some((occupation) => isShown({ pointId, occupation })),
    ) ?? null;
  const disputed = end.disputed.filter(isShown);
  totals.addDisputed(disputed);
  const { answer } = reductionAnswer(totals, 0, repeats ?? []); // Not compared: nothing disagrees.
  return {
    ...end,
    skies: end.skies?.filter(isShown) ?? null,
    totals,
    pairs,
    repeats,
    disputed,
    answer,
    rowsSkipped: 0,
    day: [],
    edits: [],
  };
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
  // With --explain the page is that of one point: its own totals, figures and working.
  const target = explainTarget(bench.invocation);
  const own = target === null ? null : createReductionTotals();
  const isShown = ({ pointId, occupation }: Pick<ReducedPoint, 'pointId' | 'occupation'>): boolean =>
    target === null ||
    (pointId === target.pointId && (target.occupation === null || occupation.split('+').includes(target.occupation)));
  const { session } = entryAt(run.days, 0).resolved;
  return {
    addOccupation(reduced, day) {
      if (!isShown(reduced.point)) return;
      own?.addOccupation(reduced);
      bench.draw(() => collector.addOccupation(reduced, day));
    },
    addPoint(point) {
      if (!isShown(point)) return;
      own?.addPoint(point);
      bench.draw(() => collector.addPoint(point));
    },
    async write(end) {
      const { setup, skies, edits, totals, pairs, repeats, day, revised, disputed, answer, rowsSkipped, worked } =
        own === null ? end : ofOnePoint(end, own, isShown);
      const about = {
        worked,
        ...(skies !== null && { skies }),
        pointsRepeated: repeats?.length ?? null,
        // A part of the rows compares nothing.
        pointsInDispute: repeats?.filter(({ test }) => test.disagrees).length ?? 0,
        title: session.title,
        ...pageFacts(bench, log),
        day,
        edits,
        answer,
        rowsSkipped,
        conditions: session.precision.conditions,
        epochYear: session.system?.epochYear ?? null,
      };
      await sink.write(
        // Where the drawing fails that is said at the end, and no page appears.
        bench.draw(() => reductionPage(collector.report(setup, totals, { pairs, revised, disputed }, about))) ?? '',
      );
    },
  };
}
