import { answerJson } from '../../../io/documents/answer-json.js';
import type { Session } from '../../../records/session.js';
import { dayThatIsOdd } from '../../../tasks/check/compare/day-that-is-odd.js';
import { checkAnswer } from '../../../tasks/check/check-answer.js';
import { checkRunSummary } from '../../../tasks/check/check-run-summary.js';
import { classLines, comparisonLines } from '../../../tasks/check/check-line.js';
import type { Checks, ChecksAsked } from '../../../tasks/check/check-points.js';
import { refusalCounts, refusesAny } from '../../../tasks/check/count-fixes.js';
import type { FixCounts } from '../../../tasks/check/count-fixes.js';
import type { CheckSetup } from '../../../tasks/check/judge/check-tolerances-setup.js';
import { dayLines } from '../../../tasks/repeats/day-of-repeats.js';
import { writeWorked } from '../../outputs/write-worked.js';
import { endWith } from '../../shell/run/run-end.js';
import type { RunLog } from '../../shell/run/run-log.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { checkColumns, CLASS_COLUMNS } from './check-columns.js';
import { writeCheckJunit, writeCheckPage, writeCheckTable, writeCheckVectors } from './check-tolerances-places.js';
import type { CheckPlaces } from './check-tolerances-places.js';
import { pageOfCheck } from './page-of-one-point.js';
import { explainedCheck } from './write-explained.js';
import { rowsSkipped } from './read-check-inputs.js';
import type { CheckInputs } from './read-check-inputs.js';
import { checkJson } from './say/check-json.js';
import { verdictLine } from './say/check-verdict-text.js';
import { dayNotCounted, saidOfCheck } from './say/said-of-check.js';

const CAUTION =
  'agreement with control of the same base proves little; check on control independent of it before anything is set out or signed';

/** A check that was made, to be written and said. */
export interface MadeCheck {
  readonly places: CheckPlaces;
  readonly setup: CheckSetup;
  readonly session: Session;
  /** Null: no points were named. */
  readonly inputs: CheckInputs | null;
  readonly asked: ChecksAsked;
  readonly checks: Checks;
  readonly fixes: FixCounts | null;
  /** What is said of the limits. */
  readonly lines: readonly string[];
}

/** Writes every output of a check, says what it found, and answers. */
export async function finishChecks(bench: Workbench, log: RunLog, made: MadeCheck): Promise<RunEnd> {
  const { places, setup, session, inputs, asked, checks, fixes } = made;
  const { rows, statements } = checks;
  const { day, usesControl } = checks.day;
  const skipped = rowsSkipped(inputs);
  const odd = checks.repeats === null ? null : dayThatIsOdd(checks.repeats.groups);
  const daySaid = dayLines(
    day,
    session.precision,
    // One day's mistake is no noise: larger sigmas would only hide it.
    odd === null ? '--variance-factor estimated counts it' : `look first at ${odd.day}, which stands alone below`,
    usesControl ? 'repeated points and control' : 'repeated points',
  );
  log.day(day);
  const { control } = checks;
  // Control alone has counted its points.
  log.summary(checkRunSummary(session, rows, rows === control?.rows ? control.checkPoints : null));
  const areFixesRefused = fixes !== null && refusesAny(fixes);
  const run = checkAnswer({
    rows,
    statements,
    refusals: fixes === null ? new Map() : refusalCounts(fixes),
    areFixesRefused,
    rowsSkipped: skipped,
    doubtfulPoints: checks.doubts.rejected + checks.doubts.review,
  });
  const results = { ...checks, groups: checks.repeats === null ? [] : checks.repeats.groups, day };
  const { grid, axes } = setup;
  const columns = checkColumns(axes);
  const [shown, lines] =
    asked.standard?.kind === 'classes'
      ? [[...columns, ...CLASS_COLUMNS], classLines(rows, checks.classed)]
      : [columns, comparisonLines(rows)];
  const members = { system: grid === null ? null : (grid.code ?? grid.name) };
  const summary = answerJson(run);
  const head = { schema: 'pegbook-checks', list: 'checks', members, summary, whole: checkJson(results, run) };
  await writeCheckTable(places, shown, lines, head, bench);
  await writeCheckVectors(places, rows, bench, axes);
  await writeCheckJunit(places, rows, statements, run, bench);
  const explained = explainedCheck(rows, setup, day?.isApplied === true, bench);
  if (explained !== null) await writeWorked(places.explain, explained.worked);
  const isOnlyExplained = places.explain !== null && places.output === null;
  if (!isOnlyExplained) for (const line of [...daySaid, ...saidOfCheck(made, skipped)]) bench.diagnostics.say(line);
  if (rows.length > 0 && !isOnlyExplained) bench.diagnostics.say(`caution: ${CAUTION}`);
  const whole = {
    ...results,
    setup,
    dayLines: [...daySaid, ...dayNotCounted(made)],
    inputDoubts: checks.doubts,
    screen: null,
    fixes,
  };
  const page = pageOfCheck(whole, run.answer, explained, inputs);
  const { answer, worked } = page;
  await writeCheckPage(places, page.results, { title: session.title, answer, worked }, bench, log);
  if (!isOnlyExplained) bench.diagnostics.say(verdictLine(run, rows, statements, areFixesRefused));
  return endWith(run, bench.invocation, log);
}
