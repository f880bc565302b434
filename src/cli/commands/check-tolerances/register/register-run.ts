import { checkAxes } from '../../../../files/check/check-axes.js';
import type { LoadedCheck } from '../../../../files/check/load-check-setup.js';
import { answerJson } from '../../../../io/documents/answer-json.js';
import { cellColumns } from '../../../../io/tables/columns/cells/cell-text.js';
import { runRegister } from '../../../../tasks/check/register/run-register.js';
import type { RegisterRun } from '../../../../tasks/check/register/run-register.js';
import type { CheckSetup } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { RunSummary } from '../../../../records/runs/run-summary.js';
import type { Session } from '../../../../records/session.js';
import { present } from '../../../../records/present.js';
import type { ResolvedSession } from '../../../inputs/session-settings.js';
import type { TableOptions } from '../../../inputs/table-options.js';
import { csvWriteOptions } from '../../../outputs/csv-write-options.js';
import { recordsText } from '../../../outputs/record-writer.js';
import { flagOption } from '../../../shell/command-spec.js';
import { endWith, rowsAnswer } from '../../../shell/run/run-end.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { RunEnd, Workbench } from '../../../shell/workbench.js';
import { openCheckPlaces } from '../check-tolerances-places.js';
import { readCheckInputs, rowsSkipped } from '../read-check-inputs.js';
import { registerColumns } from './register-columns.js';
import { registerLines } from '../say/register-text.js';
import { registerRecords, registerValues } from '../say/register-records.js';

const CAUTION =
  'a mark that moved on every day alike, or with its base, shows nothing here: only control that depends on neither can say';

/** The control of a job over its days, from the options to the answer. */
export async function runRegisterCheck(
  bench: Workbench,
  log: RunLog,
  tables: TableOptions,
  loaded: LoadedCheck,
  resolved: ResolvedSession,
): Promise<RunEnd> {
  const { invocation, diagnostics } = bench;
  const places = await openCheckPlaces(bench);
  const inputs = await readCheckInputs(bench, log, tables, loaded.grid);
  const skipped = rowsSkipped(inputs);
  if (flagOption(invocation, 'checkOnly'))
    return endWith(rowsAnswer(inputs.measured.points.length, skipped), invocation, log);
  const control = present(inputs.control, 'the control of a register');
  const axes = checkAxes(loaded.grid, inputs.measured.input.axes);
  const rules = { controlRules: [], repeatRules: [], designRules: [] };
  const setup: CheckSetup = { ...loaded, ...rules, axes, day: null };
  // A job without days has no register to keep, and says so.
  const run = bench.take(runRegister(inputs.measured, control, resolved.days ?? [], setup));
  log.method({
    id: 'control-register',
    name: 'residuals of control over days: two-sided CUSUM (k 0.5, h 5), Theil–Sen trend, search for one step an axis',
    source: { key: 'NIST-HANDBOOK', locator: 'section 6.3.2.3 (from memory)' },
  });
  log.summary(summaryOf(run, resolved.session));
  const answer = skipped > 0 ? { ...run.answer, answer: 'no' as const } : run.answer;
  const members = { system: loaded.grid === null ? null : (loaded.grid.code ?? loaded.grid.name) };
  const whole = { values: registerValues(run.rows, axes) };
  const head = { schema: 'pegbook-register', list: 'register', members, summary: answerJson(answer), whole };
  await places.output?.write(
    recordsText(
      bench.format,
      cellColumns(registerColumns(axes)),
      registerRecords(run.rows, axes),
      head,
      csvWriteOptions(invocation),
    ),
  );
  const lines = registerLines(run, axes);
  for (const line of lines) diagnostics.say(line);
  diagnostics.say(`caution: ${CAUTION}`);
  if (places.report !== null) {
    const { writeRegisterReport } = await import('./register-report-write.js');
    await writeRegisterReport(
      places.report,
      { run, setup, title: resolved.session.title, answer: answer.answer },
      bench,
      log,
    );
  }
  const counts = [...answer.verdicts].map(([word, count]) => `${String(count)} ${word}`).join(', ');
  diagnostics.say(`verdict: ${answer.answer}; ${counts}, of each mark and base along each axis`);
  return endWith(answer, invocation, log);
}

/** What the run was about, for its record; the largest figure is the largest step. */
function summaryOf({ gathered, rows }: RegisterRun, { title, bases }: Session): RunSummary {
  const steps = rows.flatMap(({ id, movement }) =>
    movement === null ? [] : [{ figure: 'moved_m', value: Math.abs(movement.sizeM), at: id }],
  );
  return {
    // Of a job without a title there is nothing to say.
    title: title ?? '',
    points: gathered.marks.length,
    firstEpochMs: gathered.firstEpochMs,
    lastEpochMs: gathered.lastEpochMs,
    bases: [...new Set(bases.map(({ id }) => id))],
    largest: steps.toSorted((a, b) => b.value - a.value).slice(0, 1),
  };
}
