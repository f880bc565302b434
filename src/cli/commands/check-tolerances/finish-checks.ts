import type { Standard } from '../../../core/quality/standards/standards.js';
import type { CheckAxes } from '../../../tasks/check/judge/check-tolerances-setup.js';
import type { ResolvedSession } from '../../inputs/session-settings.js';
import type { LoadedCheck } from './check-tolerances-load.js';
import type { CheckPlaces } from './check-tolerances-places.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { RecordList } from '../../../records/record-list.js';
import { checkAnswer } from '../../../tasks/check/check-answer.js';
import { checkRunSummary } from '../../../tasks/check/check-run-summary.js';
import { classLines, comparisonLines } from '../../../tasks/check/check-line.js';
import type { CheckResults } from '../../../tasks/check/check-report.js';
import type { CheckRow } from '../../../tasks/check/judge/check-tolerances-setup.js';
import type { DayOfCheck } from '../../../tasks/reduce/day-of-check.js';
import { dayLines, dayUnchanged } from '../../../tasks/repeats/day-of-repeats.js';
import type { StandardStatement } from '../../../tasks/check/judge/check-tolerances-standard-statement.js';
import { checkColumns, CLASS_COLUMNS } from './check-columns.js';
import { checkJson } from './say/check-json.js';
import { verdictLine } from './say/check-verdict-text.js';
import { endWith } from '../../shell/run-end.js';
import type { RunLog } from '../../shell/run-log.js';
import type { RunEnd, Workbench } from '../../shell/workbench.js';
import { refusalCounts, refusesAny } from './check-tolerances-fixes.js';
import type { FixCounts } from './check-tolerances-fixes.js';
import { writeCheckJunit, writeCheckPage, writeCheckTable, writeCheckVectors } from './check-tolerances-places.js';

const CAUTION =
  'agreement with control of the same base proves little; check on control independent of it before anything is set out or signed';

/** All that the checks of a run found, to be written and said. */
export interface FoundChecks {
  readonly places: CheckPlaces;
  readonly loaded: LoadedCheck;
  readonly resolved: ResolvedSession;
  readonly standard: Standard | null;
  readonly axes: CheckAxes;
  readonly rows: RecordList<CheckRow>;
  /** Points that the classes of a standard are given to. */
  readonly classed: RecordList<PointRow>;
  readonly statements: readonly StandardStatement[];
  /** What is said so far. */
  readonly lines: readonly string[];
  readonly said: DayOfCheck;
  /** The factor of the day was asked for. */
  readonly isApplied: boolean;
  readonly summary: CheckResults['summary'];
  readonly search: CheckResults['search'];
  readonly groups: CheckResults['groups'];
  readonly doubts: CheckResults['inputDoubts'];
  readonly fixes: FixCounts | null;
  readonly skipped: number;
}

/** Writes every output of a check, says what it found, and answers. */
export async function finishChecks(bench: Workbench, log: RunLog, found: FoundChecks): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const { places, loaded, resolved, standard, axes, rows, classed, statements, said, fixes, search, groups, summary } =
    found;
  const { doubts, skipped } = found;
  const lines = [...found.lines];
  const { day } = said;
  const daySaid = dayLines(
    day,
    resolved.session.precision,
    '--variance-factor estimated counts it',
    said.usesControl ? 'repeated points and control' : 'repeated points',
  );
  const unchanged = !found.isApplied ? null : dayUnchanged(day, resolved.session.precision, 'check');
  if (unchanged !== null) lines.push(unchanged);
  log.day(day);
  log.summary(checkRunSummary(resolved.session, rows));
  const areFixesRefused = fixes !== null && refusesAny(fixes);
  const run = checkAnswer({
    rows,
    statements,
    refusals: fixes === null ? new Map() : refusalCounts(fixes),
    areFixesRefused,
    rowsSkipped: skipped,
    doubtfulPoints: doubts.rejected + doubts.review,
  });
  const head = {
    schema: 'pegbook-checks',
    list: 'checks',
    members: { system: loaded.grid?.code ?? loaded.grid?.name ?? null },
    whole: checkJson({ statements, search, groups, day }, run),
  };
  const columns = checkColumns(axes);
  if (standard?.kind === 'classes')
    await writeCheckTable(places, [...columns, ...CLASS_COLUMNS], classLines(rows, classed), head, bench);
  else await writeCheckTable(places, columns, comparisonLines(rows), head, bench);
  await writeCheckVectors(places, rows, bench, axes);
  await writeCheckJunit(places, rows, statements, run, bench);
  for (const line of [...daySaid, ...lines]) diagnostics.say(line);
  if (rows.length > 0) diagnostics.say(`caution: ${CAUTION}`);
  await writeCheckPage(
    places,
    {
      rows,
      setup: { ...loaded, axes },
      summary,
      statements,
      search,
      groups,
      day,
      dayLines: daySaid,
      inputDoubts: doubts,
    },
    { title: resolved.session.title, answer: run.answer },
    bench,
    log,
  );
  diagnostics.say(verdictLine(run, rows, statements, areFixesRefused));
  return endWith(run, invocation, log);
}
