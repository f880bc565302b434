import type { DayReduction } from '../../../files/reduction/prepare-day.js';
import { compareRun } from '../../../files/reduction/compare-run.js';
import type { ReductionFlow } from '../../../files/reduction/reduction-flow.js';
import { answerJson } from '../../../io/documents/answer-json.js';
import { failure, failureOf } from '../../../records/outcome.js';
import type { Problem } from '../../../records/problem.js';
import { entryAt } from '../../../records/present.js';
import { datesThatDiffer } from '../../../tasks/job/date-of-day.js';
import { joinDays, namedSetups } from '../../../tasks/job/join-days.js';
import { occupiedTwice } from '../../../tasks/repeats/stands-at-once.js';
import { reductionRunSummary } from '../../../tasks/reduce/totals/reduction-run-summary.js';
import { reductionAnswer } from '../../../tasks/reduce/totals/reduction-answer.js';
import { endWith } from '../../shell/run/run-end.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { writeWorked } from '../../outputs/write-worked.js';
import { workedPoints } from './options/explain-target.js';
import { explainedInDispute, markDisputed } from './options/mark-disputed.js';
import type { PreparedRun } from './prepare-run.js';
import type { OccupationSkyWriter } from './say/occupation-sky.js';
import { sayReduction } from './say/say-reduction.js';
import type { ReductionOutputs } from './say/reduction-outputs.js';
import type { ReductionReportWriter } from './say/reduction-report.js';
import { repeatWarnings } from './say/repeat-summary.js';

/** What has been reduced, and what of the inputs was not. */
export interface ReducedRun {
  readonly run: PreparedRun;
  readonly setups: readonly DayReduction[];
  readonly flow: ReductionFlow;
  readonly outputs: ReductionOutputs;
  readonly page: ReductionReportWriter | null;
  /** Null: no navigation file is named. */
  readonly sky: OccupationSkyWriter | null;
  /** Rows with errors that were left out. */
  readonly skipped: number;
}

/** Compares and joins repeats, writes the end of every output, says what there is to say, and answers. */
export async function finishRun(bench: Workbench, log: RunLog, reduced: ReducedRun): Promise<RunEnd> {
  const { flow, outputs, page, sky, skipped, run, setups } = reduced;
  const { diagnostics } = bench;
  const unmatched = run.job === null || run.edits === null ? [] : run.edits.unmatched(entryAt(run.job.sources, 0).name);
  if (unmatched.length > 0) bench.take(failureOf(unmatched));
  const misdated = misdatedDays(reduced);
  if (misdated.length > 0) bench.take(failureOf(misdated));
  for (const day of flow.days) diagnostics.report(day.doubts());
  const setup = run.job === null ? entryAt(setups, 0) : bench.take(joinDays(namedSetups(run.days, setups)));
  // A part of the rows does not see the others.
  const found = run.share === null ? await compareRun(flow, setup, run.asked) : null;
  const { repeats = [], disputed = [] } = found ?? {};
  const twice = occupiedTwice(repeats);
  if (twice !== null) bench.take(failure(twice));
  if (!run.asked.isCombined) diagnostics.report(repeatWarnings(repeats));
  log.day(found?.day ?? null);
  // A part of the rows compares nothing; a run without a job has no edits.
  log.jobResult(flow.days, found?.days ?? [], run.edits?.applied() ?? []);
  log.repeats(run.share === null);
  const answer = reductionAnswer(flow.totals, skipped, repeats, run.share !== null);
  await flow.end(answerJson(answer));
  if (!flow.isHeld)
    await markDisputed(disputed, outputs.points, {
      format: bench.format,
      verdictColumn: flow.columns.indexOf('verdict'),
      hasHeader: flow.hasHeader,
    });
  const worked = workedPoints(
    bench,
    flow.explained.map(({ reduced: one, setup: own }) => ({ reduced: explainedInDispute(one, disputed), setup: own })),
    { setup, repeated: repeats.length },
  );
  await writeWorked(outputs.explain, worked);
  log.summary(
    reductionRunSummary(
      run.days.map(({ resolved }) => resolved.session),
      flow.totals,
    ),
  );
  const isOnlyExplained = outputs.explain !== null && outputs.points === null;
  const said = sayReduction(bench, reduced, found, setup, !isOnlyExplained);
  if (!isOnlyExplained) diagnostics.say(`verdict: ${answer.answer}`);
  const skies = sky === null ? null : await sky.end();
  await page?.write({
    skies,
    setup,
    totals: flow.totals,
    pairs: found?.pairs ?? null,
    repeats: found?.repeats ?? null,
    day: said.day,
    edits: said.edits,
    revised: found?.revised ?? new Map(),
    disputed,
    answer: answer.answer,
    rowsSkipped: skipped,
    worked,
  });
  return endWith(answer, bench.invocation, log);
}

/** Days of a job whose epochs are of other days. */
function misdatedDays({ run, flow }: ReducedRun): readonly Problem[] {
  const spans = new Map(flow.days.map(({ id, totals }) => [id, totals.span()]));
  // A run without a job has no dates; a day without epochs no span.
  return datesThatDiffer((run.job?.job.days ?? []).map(({ id, date }) => ({ id, date, span: spans.get(id) ?? null })));
}
