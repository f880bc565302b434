import { isUnchecked } from '../../../core/quality/unchecked-points.js';
import type { SiteResidualRow } from '../../../records/reports/parts/site-fit.js';
import type { JudgedSite } from '../judge-site.js';
import type { ControlPair } from './pair-control.js';

/**
 * What nothing checked in the adjustment that gave a point stays so in a fit: its residual may be small because both sides of it
 * are off alike, or because the fit followed it.
 *
 * Given: the site as its tests judge it; the pairs it was fitted to. Returned: the same, its rows of such points with the reason,
 * and unchecked where they were within.
 */
export function withUncheckedControl(judged: JudgedSite, pairs: readonly ControlPair[]): JudgedSite {
  const unchecked = new Set(
    pairs.flatMap(({ control, measured }) =>
      isUnchecked(measured.row) || isUnchecked(control) ? [control.pointId] : [],
    ),
  );
  if (unchecked.size === 0) return judged;
  const rows = judged.rows.map((row): SiteResidualRow => {
    if (!unchecked.has(row.pointId)) return row;
    const verdict = row.verdict === 'within' ? 'review' : row.verdict;
    return { ...row, verdict, reasons: [...row.reasons, 'network-unchecked'] };
  });
  return { ...judged, rows };
}
