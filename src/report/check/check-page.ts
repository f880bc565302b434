import { PROBLEM_CODES } from '../../records/codes/problem-codes.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { CheckReport, ReportStatement } from '../../records/reports/check-report.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { lengthUnit } from '../page/words/length-unit.js';
import { kilometres, metres, trueMinus } from '../page/words/numbers.js';
import { withIndices } from '../page/words/with-indices.js';
import { withoutOptions } from './statement-lines.js';
import { occupationCell } from '../page/words/occupation-cell.js';
import { page } from '../page/page.js';
import { filesSection, kickerOf, titleOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { table } from '../page/table.js';
import { workedSection } from '../page/sections/worked-section.js';
import { warningsSection } from '../page/sections/warnings-section.js';
import { causesSection, repeatCausesTable } from './check-causes.js';
import { fixesSection } from './fixes-section.js';
import { setsFigure } from './sets-figure.js';
import { heightFigure, repeatFigure, residualFigure, scatterFigure } from './check-figures.js';
import { checkVerdict } from './check-verdict.js';
import { KINDS } from './check-worst.js';
import { onePointVerdict } from './one-point-verdict.js';
import { hasMend } from './statement-lines.js';
import { worstFirst } from './worst-first.js';

/** The words of the data file; `no` says where that is because nothing could be stated. */
const VERDICTS: Readonly<Record<ReportStatement['verdict'], Markup>> = {
  within: markup`within`,
  review: markup`review`,
  exceeds: markup`<span class="no">no</span>`,
  'not-stated': markup`<span class="no">no, not stated</span>`,
  information: markup`information`,
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
  const sets = figure(setsFigure);
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
    sets === null ? null : { id: 'sets-section', heading: 'Sets of the procedure', body: sets },
    statementsSection(report),
    report.causes === null
      ? null
      : { id: 'causes', heading: 'Likely cause', body: causesSection(report, report.causes) },
    report.checks.length === 0
      ? null
      : { id: 'checks', heading: 'Every comparison', body: together([checksTable(report), reasonsTable(report)]) },
    fixesSection(report),
    workedSection(report),
    filesSection(report),
    ...endSections(report),
  ];
  return page({
    title: titleOf(
      report,
      report.title,
      sets === null ? 'Check against tolerances' : 'Field procedure against its standard',
      'against its tolerances',
    ),
    kicker: kickerOf(
      sets === null ? 'Check of points against their tolerances' : 'Test of a field procedure by its standard',
      report,
      report.title,
    ),
    verdict: report.onlyPoint === undefined ? checkVerdict(report) : onePointVerdict(report, report.onlyPoint),
    sections: sections.filter((section) => section !== null),
    foot: 'Differences are measured minus known, in metres along the axes of the system unless said otherwise. This page loads nothing and runs nothing.',
  });
}

/** Warnings, where there are any, and the cautions of every check. */
function endSections(report: CheckReport): readonly (PageSection | null)[] {
  return [
    warningsSection(report.warnings),
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
}

function statisticsTable({ statistics }: CheckReport): Markup {
  const unit = lengthUnit(statistics.reduce((most, { rmseHigh95M }) => Math.max(most, rmseHigh95M), 0));
  return table({
    label: 'Statistics of control',
    caption: markup`<b>Control residuals.</b> The interval holds the true RMSE with 95 %, given normal errors without bias; few points say little. Residuals from one base share its error, so a bias may be the base's.`,
    columns: [
      { head: 'Axis', kind: 'text' },
      { head: 'Checks', kind: 'number' },
      { head: 'Mean', unit: unit.name, kind: 'number' },
      { head: 'Deviation', unit: unit.name, kind: 'number' },
      { head: 'RMSE', unit: unit.name, kind: 'number' },
      { head: 'RMSE, 95 %', unit: unit.name, kind: 'number' },
      { head: 'Bias', kind: 'text' },
    ],
    rows: statistics.map((axis) => [
      axis.axis,
      String(axis.count),
      unit.write(axis.meanM),
      unit.write(axis.standardDeviationM),
      unit.write(axis.rmseM),
      `${unit.write(axis.rmseLow95M)} to ${unit.write(axis.rmseHigh95M)}`,
      axis.isBiased ? markup`<span class="no">significant</span>` : 'not shown',
    ]),
  });
}

function statementsSection(report: CheckReport): PageSection | null {
  if (report.statements.length === 0) return null;
  const heading = report.statements.some(hasMend) ? 'Statements' : 'Statements by standard';
  return { id: 'statements', heading, body: statementsTable(report) };
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
    rows: statements.map(({ what, text, verdict: word }) => [
      withIndices(what),
      withIndices(withoutOptions(trueMinus(text))),
      VERDICTS[word],
    ]),
  });
}

function checksTable({ checks, checkCount, axes }: CheckReport): Markup {
  const codes = codesOf(checks);
  const hasLine = checks.some(({ line }) => line !== null);
  const leftOut =
    checks.length < checkCount
      ? ` ${String(checks.length)} of ${String(checkCount)} are shown, those that exceed first; the data file has all.`
      : '';
  return table({
    label: 'Every comparison',
    caption: markup`<b>Comparisons.</b> Measured minus known, or later minus earlier, metres. What fails stands first, then what is for review; of each the largest against its limit first.${hasLine ? ' Chainage counts from the first point of the line; an offset to its left has a minus.' : ''}${leftOut}`,
    columns: [
      { head: 'Point', kind: 'words' },
      { head: 'Occ.', kind: 'text' },
      { head: 'Check', kind: 'text' },
      { head: 'Verdict', kind: 'text' },
      { head: 'Against', kind: 'words' },
      { head: axes[0].abbreviation, unit: `m, ${axes[0].name}`, kind: 'number' },
      { head: axes[1].abbreviation, unit: `m, ${axes[1].name}`, kind: 'number' },
      { head: 'Height', unit: 'm', kind: 'number' },
      ...(hasLine ? [{ head: 'On the line', unit: 'chainage / right of it, m', kind: 'number' as const }] : []),
      { head: 'Limits', unit: 'plan / height, m', kind: 'number' },
      { head: 'Distance', unit: 'km', kind: 'number' },
      { head: 'Reasons', unit: 'numbers below', kind: 'number' },
    ],
    rows: worstFirst(checks).map((check) => [
      named(check.pointId),
      occupationCell(check.occupation),
      KINDS[check.kind],
      VERDICTS[check.verdict],
      named(check.against),
      metres(check.firstM),
      metres(check.secondM),
      metres(check.upM),
      ...(hasLine ? [`${metres(check.line?.chainageM ?? null)} / ${metres(check.line?.rightM ?? null)}`] : []),
      `${metres(check.horizontalLimitM)} / ${metres(check.verticalLimitM)}`,
      kilometres(check.distanceM),
      check.reasons
        .map((code) => codes.indexOf(code) + 1)
        .toSorted((a, b) => a - b)
        .map(String)
        .join(', '),
    ]),
  });
}

function reasonsTable({ checks }: CheckReport): Markup {
  const codes = codesOf(checks);
  if (codes.length === 0) return { html: '' };
  return table({
    label: 'What the reasons mean',
    caption: markup`<b>What the reasons mean.</b>`,
    columns: [
      { head: 'No.', kind: 'text' },
      { head: 'Reason', kind: 'text' },
      { head: 'Meaning', kind: 'prose' },
      { head: 'What mends it', kind: 'prose' },
    ],
    rows: codes.map((code, index) => [String(index + 1), code, PROBLEM_CODES[code].meaning, PROBLEM_CODES[code].fix]),
  });
}

/** Each reason once, in the order that the numbers of the table of comparisons mean. */
function codesOf(checks: CheckReport['checks']): readonly ProblemCode[] {
  return [...new Set(checks.flatMap(({ reasons }) => reasons))].sort();
}
