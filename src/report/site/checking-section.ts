import type { SiteReport } from '../../records/reports/site-report.js';
import { markup, named } from '../page/markup.js';
import type { SiteResidual } from '../../records/reports/parts/site-fit.js';
import type { PageSection } from '../page/page.js';
import { fixed, metres } from '../page/words/numbers.js';
import { table } from '../page/table.js';
import { leftOut, ownRows, three } from './site-rows.js';

/** Leverage of the points fitted, and what their tests can see; null on the page of one point that was kept out. */
export function checkingSection(report: SiteReport): PageSection | null {
  const fitted = ownRows(report).filter(({ role }) => role === 'fit');
  // A point that was kept out has none.
  if (fitted.length === 0 && report.onlyPoint !== undefined) return null;
  const body = markup`<p>Leverage is the share of a residual that the point itself takes up: 1 minus its redundancy${report.surface === null ? '' : '; in height, where a surface is fitted, 1 minus its residual over that of leaving it out, as the redundancy of the file of residuals is there what the trend alone leaves of a difference'}. A point with a leverage near 1 pulls the fit to itself, and no test can see a blunder in it smaller than the last column.</p>
${table({
  label: 'Leverage',
  caption: markup`<b>Leverage and what can be seen.</b>${limitsOf(report)}${leftOut(fitted.length, report.counts.fit, report)}`,
  columns: [
    { head: 'Point', kind: 'words' },
    { head: 'Leverage', unit: 'east / north / height', kind: 'number' },
    { head: 'Test', unit: 'Baarda or Pope', kind: 'number' },
    { head: 'Smallest blunder seen', unit: 'm', kind: 'number' },
  ],
  rows: fitted.map((row) => [
    named(row.pointId),
    three(row, (residual) => fixed(leverageOf(residual, residual === row.height && report.surface !== null), 3)),
    three(row, ({ baarda, pope }) => fixed(baarda ?? pope, 2)),
    three(row, ({ detectableM }) => metres(detectableM)),
  ]),
})}`;
  return { id: 'leverage', heading: 'How well each point is checked', body };
}

/** How much of its own error a point takes up; of a surface of heights by what is left of it where the point itself is left out. */
function leverageOf({ redundancy, residualM, leftOutM }: SiteResidual, isOfSurface: boolean): number | null {
  if (!isOfSurface) return redundancy === null ? null : 1 - redundancy;
  return leftOutM === null || leftOutM === 0 ? null : 1 - Math.abs(residualM / leftOutM);
}

/** What the tests are held against. */
function limitsOf({ testLimits: { plan, height } }: SiteReport): string {
  const parts = [
    ...(plan === null ? [] : [`${fixed(plan, 2)} in plan`]),
    ...(height === null ? [] : [`${fixed(height, 2)} in height`]),
  ];
  return parts.length === 0 ? '' : ` Limit of the test: ${parts.join(', ')}.`;
}
