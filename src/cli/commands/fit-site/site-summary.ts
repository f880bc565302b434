import { largestOf } from '../../../core/numeric/extremes.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { formatDms } from '../../../core/numeric/text/angle-text.js';
import { radiansToDegrees } from '../../../core/numeric/angle-units.js';
import { isSurface } from '../../../core/adjustment/site/site-transform.js';
import type { SiteDocument } from '../../../core/adjustment/site/site-document.js';
import type { VarianceFactor } from '../../../core/adjustment/variance-factor.js';
import type { SiteResidualRow } from '../../../records/reports/parts/site-fit.js';
import type { FittedSite } from '../../../tasks/site/fit-site.js';
import type { JudgedSite } from '../../../tasks/site/judge-site.js';
import { halfWidths95 } from '../../../tasks/site/control/half-width.js';
import type { SiteRun } from '../../../tasks/site/run-site.js';
import { horizontalM } from './site-columns.js';
import { surfaceLines } from './surface-summary.js';
import { present } from '../../../records/present.js';

/** Points of each role shown, the largest residuals first. */
const SHOWN = 12;
const ARCSEC_PER_RADIAN = (180 / Math.PI) * 3600;

/** Letters of a column of residuals at least, and between two of them. */
const LEAST_CELL = 10;
const CELL_GAP = 2;

const m = (value: number | null | undefined): string => (value == null ? '' : formatFixed(value, 4));

/** The fit for people: parameters with their 95 % half-widths, tests, statements, and both kinds of point apart. */
export function siteSummary({ site, fitted, judged, said }: SiteRun): readonly string[] {
  const checks = judged.rows.filter((row) => row.role === 'check');
  return [
    ...planLines(site, fitted, said.isUnusable),
    ...heightLines(site, fitted, said.isUnusable),
    ...said.notes.map((note) => `* ${note}`),
    ...residualLines(
      'fitted minus control',
      judged.rows.filter((row) => row.role === 'fit'),
    ),
    ...(checks.length > 0
      ? residualLines('kept out of the fit: predicted minus control', checks)
      : ['no point was kept out of the fit: mark one or two with role check']),
    ...worstLines(judged),
    said.isUnusable
      ? 'the site is not to be used: settle what is named first'
      : `the site may be used up to ${formatFixed(site.bufferM, 1)} m outside its control`,
  ];
}

/** How the control points came out, and the answer. */
export function siteVerdictLine({ answer: { answer, verdicts }, judged }: SiteRun): string {
  // A word that no point has is not counted.
  const count = (word: string): string => String(verdicts.get(word) ?? 0);
  return `verdict: ${answer}; of ${String(judged.rows.length)} control points ${count('within')} within, ${count('review')} for review, ${count('no')} no`;
}

/** The half-width of a parameter, by its place in a covariance of so many, in the unit it is said in; empty where it has none. */
function halfWidth(
  covariance: readonly number[] | null,
  size: number,
  factor95: number | null,
): (at: number, scale: number, decimals: number, unit: string) => string {
  const half = halfWidths95(covariance, size, factor95);
  return (at, scale, decimals, unit) => {
    const value = half(at);
    return value === null ? '' : ` ± ${formatFixed(value * scale, decimals)}${unit}`;
  };
}

function planLines(site: SiteDocument, fitted: FittedSite, isUnusable: boolean): readonly string[] {
  const { horizontal, horizontalCovariance } = site.transform;
  const quality = site.horizontalQuality;
  const width = halfWidth(horizontalCovariance, 4, quality.factor95);
  const rotationDeg = radiansToDegrees(horizontal.rotationRad);
  const { sourceOrigin, targetOrigin } = horizontal;
  const parameters = [
    `  scale     ${formatFixed(horizontal.scale, 9)}${site.scaleIsFree ? width(3, 1e6, 2, ' ppm') : ' as stated'}`,
    `  rotation  ${formatFixed(rotationDeg, 7)}° (${formatDms(rotationDeg, 'any', 2)})${width(2, ARCSEC_PER_RADIAN, 2, '″')}; site bearing = grid bearing − rotation`,
    `  shift     east ${m(targetOrigin.eastM - sourceOrigin.eastM)}${width(0, 1, 4, '')}, north ${m(targetOrigin.northM - sourceOrigin.northM)}${width(1, 1, 4, '')} m at the middle of the control`,
  ];
  return [
    `${quality.pointsFitted} points fitted in plan, redundancy ${quality.redundancy}${factorText(fitted.horizontalFactor, quality.sigmasAreStated)}${quality.factor95 === null ? '' : '; ± is 95 %'}`,
    ...(isUnusable ? [] : parameters),
    `  spread    ${formatFixed(fitted.spread.eigenvalueRatio, 2)} (1 all round, 0 on one line), control reaches ${formatFixed(fitted.spread.radiusM, 0)} m from its middle`,
  ];
}

function heightLines(site: SiteDocument, fitted: FittedSite, isUnusable: boolean): readonly string[] {
  const { vertical, verticalCovariance } = site.transform;
  const quality = site.verticalQuality;
  if (vertical === null || quality === null || fitted.verticalFactor === null) return [];
  const head = `${quality.pointsFitted} points fitted in height (${present(site.heightKind, 'heightKind')}), redundancy ${quality.redundancy}${factorText(fitted.verticalFactor, quality.sigmasAreStated)}`;
  if (isSurface(vertical))
    return [
      head,
      ...(isUnusable || fitted.vertical?.kind !== 'surface'
        ? []
        : surfaceLines(vertical, fitted.vertical, quality.factor95)),
    ];
  const width = halfWidth(verticalCovariance, 3, quality.factor95);
  const slope =
    fitted.vertical?.kind === 'plane' && fitted.vertical.isInclined
      ? `; slope east ${formatFixed(vertical.slopeEast * 1e6, 2)}${width(1, 1e6, 2, '')}, north ${formatFixed(vertical.slopeNorth * 1e6, 2)}${width(2, 1e6, 2, '')} mm/km`
      : '';
  return [head, ...(isUnusable ? [] : [`  offset    ${m(vertical.offsetM)}${width(0, 1, 4, '')} m${slope}`])];
}

function worstLines({ worst, rows }: JudgedSite): readonly string[] {
  if (worst === null) return [];
  const rest = rows.filter((row) => row.reasons.includes('site-outlier')).length - 1;
  return [
    `look first at ${worst.pointId}, ${worst.what}: ${worst.test}'s test gives ${formatFixed(Math.abs(worst.value), 2)}${rest > 0 ? `; the ${rest} other flagged may only be pulled by it` : ''}. Mark it check and fit again to see what the others say of it`,
  ];
}

function factorText({ estimate, limit }: VarianceFactor, stated: boolean): string {
  if (estimate === null) return ', nothing checks it';
  if (!stated) return `, one sigma of a coordinate ${formatFixed(Math.sqrt(estimate) * 1000, 1)} mm`;
  return `, variance factor ${formatFixed(estimate, 2)} (limit ${formatFixed(present(limit, 'the limit of a factor that is estimated'), 2)})`;
}

/** The largest residuals first; a height counts like a length in plan. */
function residualLines(title: string, rows: readonly SiteResidualRow[]): readonly string[] {
  // What has no residual is no larger than any.
  const size = (row: SiteResidualRow): number => Math.max(horizontalM(row) ?? 0, Math.abs(row.height?.residualM ?? 0));
  const sorted = [...rows].sort((a, b) => size(b) - size(a));
  const shown = sorted.slice(0, SHOWN);
  const wide = largestOf(
    shown.map((row) => row.pointId.length),
    8,
  );
  const cellsOf = (row: SiteResidualRow): readonly string[] => [
    m(row.east?.residualM),
    m(row.north?.residualM),
    m(row.height?.residualM),
  ];
  const cellWide = largestOf(
    shown.flatMap((row) => cellsOf(row).map((text) => text.length + CELL_GAP)),
    LEAST_CELL,
  );
  const line = (id: string, cells: readonly string[], end: string): string =>
    `  ${id.padEnd(wide)}${cells.map((text) => text.padStart(cellWide)).join('')}${end === '' ? '' : `  ${end}`}`;
  return [
    `${title}, metres:`,
    line('point_id', ['east', 'north', 'height'], ''),
    ...shown.map((row) =>
      line(row.pointId, cellsOf(row), row.verdict === 'within' ? '' : `${row.verdict}: ${row.reasons.join(', ')}`),
    ),
    ...(sorted.length > SHOWN ? [`  and ${sorted.length - SHOWN} more, all smaller`] : []),
  ];
}
