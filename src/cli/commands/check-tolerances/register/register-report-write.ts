import { spanOf } from '../../../../core/observation/survey-span.js';
import { systemLabel } from '../../../../core/grid/systems/system-label.js';
import { CUSUM_LIMIT } from '../../../../core/quality/register/cusum-chart.js';
import type { Sink } from '../../../../io/bytes/output/sink.js';
import { entryAt } from '../../../../records/present.js';
import type { Answer } from '../../../../records/runs/run-answer.js';
import { registerPage } from '../../../../report/check/register-page.js';
import type { CheckSetup } from '../../../../tasks/check/judge/check-tolerances-setup.js';
import type { RegisterRun } from '../../../../tasks/check/register/run-register.js';
import { pageFacts } from '../../../outputs/page-facts.js';
import type { RunLog } from '../../../shell/run/run-log.js';
import type { Workbench } from '../../../shell/workbench.js';
import { registerAxisName } from './register-columns.js';
import { registerFindings } from '../say/register-text.js';

/** Writes the page of --report for a register. Loaded only where one is asked for. */
export async function writeRegisterReport(
  sink: Sink,
  made: {
    readonly run: RegisterRun;
    readonly setup: CheckSetup;
    readonly title: string | null;
    readonly answer: Answer;
  },
  bench: Workbench,
  log: RunLog,
): Promise<void> {
  const { run, setup, title, answer } = made;
  const { gathered, rows } = run;
  const { grid, axes } = setup;
  const days = gathered.setUps.map(({ day }) => day);
  const report = {
    title,
    answer,
    surveyed: spanOf([gathered]),
    ...pageFacts(bench, log),
    systemName: grid === null ? null : systemLabel(grid),
    axisNames: {
      first: registerAxisName('first', axes),
      second: registerAxisName('second', axes),
      up: registerAxisName('up', axes),
    },
    axisSigns: axes.signs,
    rows,
    counts: {
      marks: gathered.marks.length,
      setUps: gathered.setUps.length,
      used: gathered.used,
      leftOut: gathered.leftOut,
    },
    firstDay: entryAt(days, 0),
    lastDay: entryAt(days, days.length - 1),
    findings: registerFindings(rows, axes),
    limit: CUSUM_LIMIT,
  };
  // Where the drawing fails that is said at the end, and no page appears.
  await sink.write(bench.draw(() => registerPage(report)) ?? '');
}
