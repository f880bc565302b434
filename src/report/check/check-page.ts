import { PROBLEM_CODES } from '../../records/problem-codes.js';
import type { CheckReport, ReportCheck } from '../../records/reports/check-report.js';
import { CAUTIONS, cautionList } from '../page/cautions.js';
import { filesTable } from '../page/files-table.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { counted, kilometres, metres, millimetres, utc } from '../page/numbers.js';
import { page } from '../page/page.js';
import type { PageSection } from '../page/page.js';
import { table } from '../page/table.js';
import { causesSection, repeatCausesTable } from './check-causes.js';
import { heightFigure, repeatFigure, residualFigure, scatterFigure } from './check-figures.js';
import { answerWord } from '../page/answer-word.js';

const VERDICTS: Readonly<Record<ReportCheck['verdict'], Markup>> = {
  within: markup`within`,
  review: markup`review`,
  exceeds: markup`<span class="no">no</span>`,
  'not-stated': markup`<span class="no">no, not stated</span>`,
};
const KINDS: Readonly<Record<ReportCheck['kind'], string>> = {
  control: 'control',
  repeat: 'repeat',
  'base-pair': 'two bases',
  design: 'design',
  line: 'line',
};

/** The page of a check against tolerances: one self-contained HTML file as text. */
export function checkPage(report: CheckReport): string {
  let count = 0;
  const figure = (make: (report: CheckReport, number: number) => Markup | null): Markup | null => {
    const made = make(report, count + 1);
    if (made !== null) count += 1;
    return made;
  };
  const residuals = [figure(residualFigure), figure(scatterFigure)].flatMap((piece) => piece ?? []);
  const heights = [
    figure((all, number) => heightFigure(all, number, 'distance')),
    figure((all, number) => heightFigure(all, number, 'rise')),
  ].flatMap((piece) => piece ?? []);
  const repeats = figure(repeatFigure);
  const sections: readonly (PageSection | null)[] = [
    residuals.length === 0
      ? null
      : { id: 'residuals-section', heading: 'Residuals in plan', body: together(residuals) },
    heights.length === 0 ? null : { id: 'heights', heading: 'Residuals in height', body: together(heights) },
    repeats === null
      ? null
      : { id: 'repeats', heading: 'Repeats', body: together([repeats, repeatCausesTable(report)]) },
    report.statistics.length === 0
      ? null
      : { id: 'statistics', heading: 'What the control says together', body: statisticsTable(report) },
    report.statements.length === 0
      ? null
      : { id: 'statements', heading: 'Statements by standard', body: statementsTable(report) },
    report.causes === null ? null : { id: 'causes', heading: 'Likely cause', body: causesSection(report.causes) },
    report.checks.length === 0
      ? null
      : { id: 'checks', heading: 'Every comparison', body: together([checksTable(report), reasonsTable(report)]) },
    {
      id: 'basis',
      heading: 'Files',
      body: markup`${filesTable(report.files)}<p class="small">Command: <code>pegbook ${report.command.join(' ')}</code></p>`,
    },
    report.warnings.length === 0
      ? null
      : {
          id: 'warnings',
          heading: 'Warnings',
          body: markup`<ul>${report.warnings.map((text) => markup`<li>${text}</li>`)}</ul>`,
        },
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        'Agreement with control of the same base proves little: check on control independent of it.',
        'A likely cause is a lead, not a proof. Never correct coordinates by it without confirming it in the field.',
        ...CAUTIONS.slice(2),
      ]),
    },
  ];
  return page({
    title: report.title ?? 'Check against tolerances',
    kicker: `Check of points against their tolerances · Pegbook ${report.toolVersion}${report.timeMs === null ? '' : ` · ${utc(report.timeMs)}`}`,
    verdict: verdict(report),
    sections: sections.filter((section) => section !== null),
    foot: 'Differences are measured minus known, in metres along the axes of the system unless said otherwise. This page loads nothing and runs nothing.',
  });
}

function verdict(report: CheckReport): readonly Markup[] {
  const { answer, checkCount, withinCount, exceedCount, reviewCount, judged, systemName, causes, checks } = report;
  const worst = checks.reduce<ReportCheck | null>(
    (found, check) => (planOf(check) > (found === null ? -1 : planOf(found)) ? check : found),
    null,
  );
  const notDone = [
    checks.some(({ kind }) => kind === 'control') ? '' : 'No control was compared.',
    checks.some(({ kind }) => kind === 'repeat') ? '' : 'Repeats were not compared.',
    causes === null ? 'No cause was looked for.' : '',
    'Nothing was corrected.',
  ].filter((text) => text !== '');
  return [
    markup`<b>${answerWord(answer)}</b> ${String(checkCount)} comparisons: ${String(withinCount)} within, ${String(reviewCount)} for review, ${String(exceedCount)} beyond, ${String(checkCount - withinCount - reviewCount - exceedCount)} that cannot be judged.${judged === null ? null : markup` Judged: ${judged}.`}`,
    ...report.day.map((line) => markup`<b>The day.</b> ${line}.`),
    ...inputLines(report),
    worst === null
      ? markup`Nothing was compared in plan.`
      : markup`<b>Largest in plan.</b> ${metres(planOf(worst))} m at ${named(worst.pointId)}, ${KINDS[worst.kind]}${worst.horizontalLimitM === null ? '' : `, limit ${metres(worst.horizontalLimitM)} m`}. System: ${systemName ?? 'not stated'}.`,
    markup`<b>Not done.</b> ${notDone.join(' ')}`,
  ];
}

/** What the reduction said of the points stays said, at the top. */
function inputLines({ inputDoubts: { rejected, review, unchecked } }: CheckReport): readonly Markup[] {
  if (rejected + review === 0) return [];
  const counts = [
    rejected > 0 ? `rejected ${counted(rejected, 'point')}` : '',
    review > 0 ? `left ${counted(review, 'point')} for review` : '',
  ].filter((text) => text !== '');
  return [
    markup`<b>Before this check</b> the reduction ${counts.join(' and ')}; a small difference here does not change that.${unchecked === 0 ? '' : ` The adjustment found nothing that checks ${counted(unchecked, 'point')}: what is compared here is that one observation.`}`,
  ];
}

function planOf({ firstM, secondM }: ReportCheck): number {
  return firstM === null || secondM === null ? -1 : Math.hypot(firstM, secondM);
}

function statisticsTable({ statistics }: CheckReport): Markup {
  return table({
    label: 'Statistics of control',
    caption: markup`<b>Control residuals.</b> Millimetres. The interval holds the true RMSE with 95 %, given normal errors without bias; few points say little. Residuals from one base share its error, so a bias may be the base's.`,
    columns: [
      { head: 'Axis', kind: 'text' },
      { head: 'Checks', kind: 'number' },
      { head: 'Mean', unit: 'mm', kind: 'number' },
      { head: 'Deviation', unit: 'mm', kind: 'number' },
      { head: 'RMSE', unit: 'mm', kind: 'number' },
      { head: 'RMSE, 95 %', unit: 'mm', kind: 'number' },
      { head: 'Bias', kind: 'text' },
    ],
    rows: statistics.map((axis) => [
      axis.axis,
      String(axis.count),
      millimetres(axis.meanM),
      millimetres(axis.standardDeviationM),
      millimetres(axis.rmseM),
      `${millimetres(axis.rmseLow95M)} to ${millimetres(axis.rmseHigh95M)}`,
      axis.isBiased ? markup`<span class="no">significant</span>` : 'not shown',
    ]),
  });
}

function statementsTable({ statements }: CheckReport): Markup {
  return table({
    label: 'Statements by standard',
    caption: markup`<b>What the standard lets one say.</b>`,
    columns: [
      { head: 'Of what', kind: 'words' },
      { head: 'Statement', kind: 'prose' },
      { head: 'Verdict', kind: 'text' },
    ],
    rows: statements.map(({ what, text, verdict: word }) => [what, text, word]),
  });
}

function checksTable({ checks, checkCount, axes }: CheckReport): Markup {
  const leftOut =
    checks.length < checkCount
      ? ` ${String(checks.length)} of ${String(checkCount)} are shown, those that exceed first; the data file has all.`
      : '';
  return table({
    label: 'Every comparison',
    caption: markup`<b>Comparisons.</b> Measured minus known, or later minus earlier, metres.${leftOut}`,
    columns: [
      { head: 'Point', kind: 'words' },
      { head: 'Occ.', kind: 'text' },
      { head: 'Check', kind: 'text' },
      { head: 'Verdict', kind: 'text' },
      { head: 'Against', kind: 'words' },
      { head: axes[0].abbreviation, unit: `m, ${axes[0].name}`, kind: 'number' },
      { head: axes[1].abbreviation, unit: `m, ${axes[1].name}`, kind: 'number' },
      { head: 'Height', unit: 'm', kind: 'number' },
      { head: 'Limits', unit: 'plan / height, m', kind: 'number' },
      { head: 'Distance', unit: 'km', kind: 'number' },
      { head: 'Reasons', kind: 'codes' },
    ],
    rows: checks.map((check) => [
      named(check.pointId),
      check.occupation,
      KINDS[check.kind],
      VERDICTS[check.verdict],
      named(check.against),
      metres(check.firstM),
      metres(check.secondM),
      metres(check.upM),
      `${metres(check.horizontalLimitM)} / ${metres(check.verticalLimitM)}`,
      kilometres(check.distanceM),
      check.reasons.join(', '),
    ]),
  });
}

function reasonsTable({ checks }: CheckReport): Markup {
  const codes = [...new Set(checks.flatMap(({ reasons }) => reasons))].sort();
  if (codes.length === 0) return { html: '' };
  return table({
    label: 'What the reasons mean',
    caption: markup`<b>What the reasons mean.</b>`,
    columns: [
      { head: 'Reason', kind: 'text' },
      { head: 'Meaning', kind: 'prose' },
      { head: 'What mends it', kind: 'prose' },
    ],
    rows: codes.map((code) => [code, PROBLEM_CODES[code].meaning, PROBLEM_CODES[code].fix]),
  });
}
