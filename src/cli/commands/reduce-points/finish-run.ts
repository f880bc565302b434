import type { OccupationInterval } from '../../../io/tables/fixes/occupations-read.js';
import { dayLines, dayOfRepeats, dayUnchanged } from '../../../tasks/repeats/day-of-repeats.js';
import { finishHeld } from '../../../tasks/join/held-points.js';
import type { FinishedPoints } from '../../../tasks/join/held-points.js';
import { missingOccupation } from '../../../tasks/reduce/doubts/missing-occupation.js';
import { reductionRunSummary } from '../../../tasks/reduce/reduction-run-summary.js';
import { reductionAnswer } from '../../../tasks/reduce/reduction-answer.js';
import { baseNotes } from './say/reduction-base-notes.js';
import type { ReductionReportWriter } from './say/reduction-report.js';
import { tiltAzimuthUnstated } from './options/reduction-rover-check.js';
import { shiftNotes } from './say/reduction-shift-notes.js';
import { reductionSummary } from './say/reduction-summary.js';
import { repeatWarnings } from './say/repeat-summary.js';
import { endWith } from '../../shell/run-end.js';
import type { RunLog } from '../../shell/run-log.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { writeExplained } from './options/explain-target.js';
import { explainedInDispute, markDisputed } from './options/mark-disputed.js';
import type { PreparedRun } from './prepare-run.js';
import type { ReductionFlow } from './reduction-flow.js';
import type { ReductionOutputs } from './say/reduction-outputs.js';

const FULL = 1 << 18;

/** What has been reduced, and what of the inputs was not. */
export interface ReducedRun {
  readonly run: PreparedRun;
  readonly flow: ReductionFlow;
  readonly outputs: ReductionOutputs;
  readonly page: ReductionReportWriter | null;
  /** Named occupations that no epoch belongs to. */
  readonly withoutEpochs: readonly OccupationInterval[];
  /** Rows with errors that were left out. */
  readonly skipped: number;
}

/** Compares and joins repeats, writes the end of every output, says what there is to say, and answers. */
export async function finishRun(bench: Workbench, log: RunLog, reduced: ReducedRun): Promise<RunEnd> {
  const { flow, outputs, page, skipped, run } = reduced;
  const { diagnostics } = bench;
  for (const interval of reduced.withoutEpochs) flow.keep(missingOccupation(interval, flow.counter, flow.carriedCount));
  diagnostics.report(flow.doubts.problems(flow.totals));
  const finished = await compareRepeats(reduced);
  const { repeats = [], day = null, disputed = [] } = finished ?? {};
  if (!run.asked.isCombined) diagnostics.report(repeatWarnings(repeats));
  log.day(day);
  log.repeats(run.share === null);
  await flow.end();
  if (!flow.isHeld)
    await markDisputed(disputed, outputs.points, {
      format: bench.format,
      verdictColumn: flow.columns.indexOf('verdict'),
      hasHeader: flow.hasHeader,
    });
  if (flow.explain !== null)
    await writeExplained(
      flow.explained.map((occupation) => explainedInDispute(occupation, disputed)),
      flow.explain,
      run.setup,
      outputs.explain,
      bench,
    );

  const answer = reductionAnswer(flow.totals, skipped, repeats, run.share !== null);
  log.summary(reductionRunSummary(run.resolved.session, flow.totals));
  const daySaid = sayAll(bench, reduced, repeats, day);
  diagnostics.say(`verdict: ${answer.answer}`);
  await page?.write({
    totals: flow.totals,
    pairs: finished?.pairs ?? null,
    repeats: finished?.repeats ?? null,
    day: daySaid,
    revised: finished?.revised ?? new Map(),
    disputed,
    answer: answer.answer,
    rowsSkipped: skipped,
  });
  return endWith(answer, bench.invocation, log);
}

/** Null where nothing can be compared: a part of the rows does not see the others. */
async function compareRepeats({
  run: { setup, asked, share },
  flow,
}: ReducedRun): Promise<Omit<FinishedPoints, 'points'> | null> {
  if (flow.isHeld) {
    const { points, ...rest } = finishHeld(flow.held, setup, asked);
    for (const point of points) {
      flow.release(point);
      await flow.flush(FULL);
    }
    return rest;
  }
  if (share !== null) return null;
  const { repeats, disputed } = flow.keeper.compare();
  flow.totals.addDisputed(disputed);
  return { repeats, disputed, pairs: null, day: dayOfRepeats(repeats), revised: new Map() };
}

/** Says what the run found. Returned: what it says of the noise of the day. */
function sayAll(
  { diagnostics }: Workbench,
  { run, flow: { totals }, skipped }: ReducedRun,
  repeats: FinishedPoints['repeats'],
  day: FinishedPoints['day'],
): readonly string[] {
  const {
    setup,
    asked,
    resolved: { session },
  } = run;
  const unstated = tiltAzimuthUnstated(session, totals);
  if (unstated !== null) diagnostics.report([unstated]);
  const notes =
    skipped === 0
      ? []
      : [`${skipped} ${skipped === 1 ? 'row with errors was' : 'rows with errors were'} left out on request`];
  const daySaid = dayLines(day, session.precision, '--variance-factor estimated counts it');
  const unchanged = asked.isEstimated ? dayUnchanged(day, session.precision) : null;
  if (unchanged !== null) notes.push(unchanged);
  for (const line of daySaid) diagnostics.say(line);
  for (const line of reductionSummary(totals, repeats, [
    ...baseNotes(setup, totals),
    ...shiftNotes(setup, totals),
    ...notes,
  ]))
    diagnostics.say(line);
  return daySaid;
}
