import type { SiteReport } from '../../records/reports/site-report.js';
import type { SiteResidual, SiteResidualRow } from '../../records/reports/parts/site-fit.js';
import { UNKNOWN } from '../page/words/numbers.js';

/** With --explain those of its point; the figure shows the others too, which hold it. */
export function ownRows({ rows, onlyPoint }: SiteReport): readonly SiteResidualRow[] {
  return onlyPoint === undefined ? rows : rows.filter(({ pointId }) => pointId === onlyPoint);
}

/** How many of all a table shows. */
export function leftOut(shown: number, all: number, { onlyPoint }: SiteReport): string {
  if (onlyPoint !== undefined) return ' The one point that is explained; the page of the whole fit has the others.';
  return shown < all
    ? ` ${String(shown)} of ${String(all)} are shown, those to look at first; the file of residuals has all.`
    : '';
}

/** What a row has of east, north and height. */
export function three({ east, north, height }: SiteResidualRow, pick: (residual: SiteResidual) => string): string {
  return [east, north, height].map((residual) => (residual === null ? UNKNOWN : pick(residual))).join(' / ');
}
