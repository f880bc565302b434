import { signsOf } from '../../core/grid/systems/grid-axes.js';
import type { SiteReport } from '../../records/reports/site-report.js';
import type { SiteResidualRow } from '../../records/reports/parts/site-fit.js';
import { CAUTIONS, cautionList } from '../page/words/cautions.js';
import { wideFigure } from '../figures/figure.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, fixed, kilometres, metres, millimetres, trueMinus } from '../page/words/numbers.js';
import { page } from '../page/page.js';
import { filesSection, kickerOf, titleOf } from '../page/sections/run-facts.js';
import type { PageSection } from '../page/page.js';
import { residualPlan } from '../figures/plan/residual-plan.js';
import { byNeed } from '../page/words/by-need.js';
import { table } from '../page/table.js';
import { workedSection } from '../page/sections/worked-section.js';
import { warningsSection } from '../page/sections/warnings-section.js';
import { oneControlVerdict } from './one-control-verdict.js';
import { checkingSection } from './checking-section.js';
import { leftOut, ownRows, three } from './site-rows.js';
import { siteVerdict } from './site-verdict.js';
import { surfaceSection } from './surface-section.js';
import { transfersSection } from './transfers-section.js';
import { reachFigure } from './reach-figure.js';

/** The page of a site fit: one self-contained HTML file as text. */
export function sitePage(report: SiteReport): string {
  const { surface } = report;
  // Who asked for a surface of heights is shown heights first.
  const residuals: PageSection = {
    id: 'residuals-section',
    heading: 'Residuals on the plan',
    body: residualsFigure(report, surface === null ? 1 : 2),
  };
  const sections: readonly (PageSection | null)[] = [
    surface === null
      ? null
      : { id: 'surface', heading: 'The surface of heights', body: surfaceSection(report, surface, 1) },
    surface === null ? residuals : null,
    {
      id: 'parameters',
      heading: 'What the fit found',
      body: together([
        parametersTable(report),
        report.statements.length === 0
          ? { html: '' }
          : markup`<ul>${report.statements.map((text) => markup`<li>${trueMinus(text)}</li>`)}</ul>`,
      ]),
    },
    // Behind the tables, which fill the sheet that the map of the surface leaves open.
    surface === null ? null : residuals,
    {
      id: 'points',
      heading: 'Control points',
      body: together([residualsTable(report, 'fit'), residualsTable(report, 'check')]),
    },
    checkingSection(report),
    transfersSection(report),
    { id: 'reach', heading: 'Outside the control', body: reachFigure(report, surface === null ? 2 : 3) },
    workedSection(report),
    filesSection(report),
    warningsSection(report.warnings),
    {
      id: 'cautions',
      heading: 'Cautions',
      body: cautionList([
        'A fit makes measured points agree with control, right or wrong: a wrong base or a wrong pole disappears into it. Put those right first.',
        'Only points kept out of the fit check it. Outside its control a fit is a guess that gets worse quickly.',
        ...CAUTIONS.slice(2),
      ]),
    },
  ];
  const [own] = report.onlyPoint === undefined ? [] : ownRows(report);
  return page({
    title: titleOf(report, report.title, 'Fit of a site to its control', 'in the fit of the site'),
    kicker: kickerOf('Fit of a site to its control', report, report.title),
    verdict: own === undefined ? siteVerdict(report) : oneControlVerdict(report, own),
    sections: sections.filter((section) => section !== null),
    foot: 'Residuals are fitted minus control along the east and north of the site, in metres unless said otherwise. This page loads nothing and runs nothing.',
  });
}

function residualsFigure(report: SiteReport, number: number): Markup {
  const { rows, axes, hull } = report;
  const [eastSign, northSign] = signsOf(axes);
  const plan = residualPlan({
    id: 'residuals',
    title: 'Residuals of the control on the plan',
    description:
      'Arrows point from the control to where the fit puts it, much enlarged. Circles were fitted, diamonds kept out to check; open ones are for review, crosses are not within; thin circles about the ends of arrows are 95 % of a residual, dashed circles about control its limit; the dashed line is the hull of the control.',
    axes,
    bases: [],
    vectors: rows.flatMap((row) => {
      const { gridFirst, gridSecond } = row.control;
      if (gridFirst === null || gridSecond === null) return [];
      const residual =
        row.east === null || row.north === null
          ? null
          : {
              first: (eastSign * row.east.residualM) / axes[0].metresPerUnit,
              second: (northSign * row.north.residualM) / axes[1].metresPerUnit,
            };
      const place = { first: gridFirst, second: gridSecond };
      return [{ place, name: row.pointId, residual, circle95M: row.circle95M, limitM: row.limitM, ...look(row) }];
    }),
    outlines: [hull],
    goodWord: 'within',
  });
  return wideFigure(
    plan.drawing,
    number,
    markup`Residuals, fitted minus control${plan.arrowWords}. Axes are those of the site, fitted to ${report.systemName}; north is the north of the site. Circles: fitted. Diamonds: kept out to check. Open ones: for review. Crosses: not within, fitted or kept out, as the tables say.${circleWords(rows)} Dashed line: hull of the control, beyond which the fit is extrapolated. Names without room are left out.${plan.thinWords}`,
  );
}

/** What the circles about residuals are; where there are none, that they are left out and why. */
function circleWords(rows: readonly SiteResidualRow[]): string {
  const limits = rows.some(({ limitM }) => limitM !== null) ? ' Dashed about a diamond: its limit.' : '';
  return rows.some(({ circle95M }) => circle95M !== null)
    ? ` Thin about the end of an arrow: 95 % of the residual by the sigmas stated; control outside it stands out.${limits}`
    : ` No circles of 95 %: no sigmas are stated, or nothing checks the points.${limits}`;
}

function look({ role, verdict: word }: SiteResidualRow): {
  readonly symbol: 'circle' | 'diamond' | 'times';
  readonly classes: 'mark' | 'doubt' | 'bad';
} {
  if (word === 'no') return { symbol: 'times', classes: 'bad' };
  return { symbol: role === 'check' ? 'diamond' : 'circle', classes: word === 'review' ? 'doubt' : 'mark' };
}

function parametersTable({
  parameters,
  variancePlan,
  varianceHeight,
  sigmasAreStated,
  spreadRatio,
  radiusM,
  heightKind,
}: SiteReport): Markup {
  const factor = (value: number | null): string =>
    value === null
      ? 'nothing checks it'
      : sigmasAreStated
        ? fixed(value, 2)
        : `one sigma of a coordinate ${millimetres(Math.sqrt(value))} mm`;
  return table({
    label: 'Parameters of the fit',
    caption: markup`<b>Parameters.</b> ± is 95 %.`,
    columns: [
      { head: 'What', kind: 'prose' },
      { head: 'Found', kind: 'number' },
      { head: '±', kind: 'number' },
      { head: 'Unit', kind: 'text' },
    ],
    rows: [
      ...parameters.map(({ name, value, halfWidth95, unit, decimals }) => [
        name,
        fixed(value, decimals),
        halfWidth95 === null ? UNKNOWN : fixed(halfWidth95, decimals),
        unit,
      ]),
      ['Variance factor in plan', factor(variancePlan), UNKNOWN, ''],
      ...(heightKind === null
        ? []
        : [[`Variance factor in height (${heightKind})`, factor(varianceHeight), UNKNOWN, '']]),
      ['Spread of the control: 1 all round, 0 on one line', fixed(spreadRatio, 2), UNKNOWN, ''],
      ['Control reaches from its middle', kilometres(radiusM), UNKNOWN, 'km'],
    ],
  });
}

function residualsTable(report: SiteReport, role: SiteResidualRow['role']): Markup {
  // What is to be looked at is not searched for among hundreds that are within.
  const all = ownRows(report).filter((row) => row.role === role);
  const own = byNeed(all, ({ verdict }) => NEED[verdict], sizeOf);
  const few = leftOut(own.length, report.counts[role], report);
  if (own.length === 0)
    return role === 'check' && report.onlyPoint === undefined
      ? markup`<p>No point was kept out of the fit.</p>`
      : { html: '' };
  return table({
    label: role === 'fit' ? 'Points fitted' : 'Points kept out',
    caption:
      role === 'fit'
        ? markup`<b>Fitted.</b> Fitted minus control.${few}`
        : markup`<b>Kept out to check.</b> Predicted minus control, with one sigma of that difference.${few}`,
    columns: [
      { head: 'Point', kind: 'words' },
      { head: 'Verdict', kind: 'text' },
      { head: 'East', unit: 'm', kind: 'number' },
      { head: 'North', unit: 'm', kind: 'number' },
      { head: 'Height', unit: 'm', kind: 'number' },
      ...(role === 'check'
        ? [{ head: 'Sigma', unit: 'east / north / height, m', kind: 'number' as const }]
        : [{ head: 'Left out', unit: 'east / north / height, m', kind: 'number' as const }]),
      { head: 'Reasons', kind: 'codes' },
    ],
    rows: own.map((row) => [
      named(row.pointId),
      row.verdict === 'within' ? row.verdict : markup`<span class="no">${row.verdict}</span>`,
      metres(row.east?.residualM ?? null),
      metres(row.north?.residualM ?? null),
      metres(row.height?.residualM ?? null),
      three(row, ({ sigmaM, leftOutM }) => metres(role === 'check' ? sigmaM : leftOutM)),
      row.reasons.join(', '),
    ]),
  });
}

const NEED: Readonly<Record<SiteResidualRow['verdict'], number>> = { no: 0, review: 1, within: 2 };

/** In plan or in height, metres. */
function sizeOf({ east, north, height }: SiteResidualRow): number {
  // What was not fitted is not large.
  return Math.max(Math.hypot(east?.residualM ?? 0, north?.residualM ?? 0), Math.abs(height?.residualM ?? 0));
}
