import { largestOf } from '../../../core/numeric/extremes.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { formatDms } from '../../../core/numeric/text/angle-text.js';
import { radiansToDegrees } from '../../../core/numeric/angle-units.js';
import type { SiteDocument } from '../../../core/adjustment/site-document.js';
import type { VarianceFactor } from '../../../core/adjustment/variance-factor.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import type { SiteStatements } from '../../../tasks/site/site-statements.js';
import type { SiteResidualRow } from '../../../records/reports/site-fit.js';
import type { FittedSite } from '../../../tasks/site/fit-site.js';
import type { JudgedSite } from '../../../tasks/site/judge-site.js';
import { horizontalM } from './site-columns.js';
import { entryAt, present } from '../../../records/present.js';

/** Points of each role shown, the largest residuals first. */
const SHOWN = 12;

const m = (value: number | null | undefined): string => (value == null ? '' : formatFixed(value, 4));

/** The fit for people: parameters with their 95 % half-widths, tests, statements, and both kinds of point apart. */
export function siteSummary(
  site: SiteDocument,
  fitted: FittedSite,
  judged: JudgedSite,
  { notes, isUnusable }: Pick<SiteStatements, 'notes' | 'isUnusable'>,
): readonly string[] {
  const { horizontal, horizontalCovariance: q, vertical, verticalCovariance: v } = site.transform;
  const width = (
    i: number,
    covariance: readonly number[] | null,
    size: number,
    factor: number | null,
  ): number | null =>
    factor === null || covariance === null
      ? null
      : factor * Math.sqrt(Math.max(0, entryAt(covariance, i * (size + 1))));
  const within = (value: number | null, scale: number, decimals: number, unit: string): string =>
    value === null ? '' : ` ± ${formatFixed(value * scale, decimals)}${unit}`;
  const h = site.horizontalQuality;
  const rotationDeg = radiansToDegrees(horizontal.rotationRad);
  const lines = [
    `${h.pointsFitted} points fitted in plan, redundancy ${h.redundancy}${factorText(fitted.horizontalFactor, h.sigmasAreStated)}${h.factor95 === null ? '' : '; ± is 95 %'}`,
    ...(isUnusable
      ? []
      : [
          `  scale     ${formatFixed(horizontal.scale, 9)}${site.scaleIsFree ? within(width(3, q, 4, h.factor95), 1e6, 2, ' ppm') : ' as stated'}`,
          `  rotation  ${formatFixed(rotationDeg, 7)}° (${formatDms(rotationDeg, 'any', 2)})${within(width(2, q, 4, h.factor95), (180 / Math.PI) * 3600, 2, '″')}; site bearing = grid bearing − rotation`,
          `  shift     east ${m(horizontal.targetOrigin.eastM - horizontal.sourceOrigin.eastM)}${within(width(0, q, 4, h.factor95), 1, 4, '')}, north ${m(horizontal.targetOrigin.northM - horizontal.sourceOrigin.northM)}${within(width(1, q, 4, h.factor95), 1, 4, '')} m at the middle of the control`,
        ]),
    `  spread    ${formatFixed(fitted.spread.eigenvalueRatio, 2)} (1 all round, 0 on one line), control reaches ${formatFixed(fitted.spread.radiusM, 0)} m from its middle`,
  ];
  const verticalQuality = site.verticalQuality;
  if (vertical !== null && verticalQuality !== null && fitted.verticalFactor !== null) {
    const vf = verticalQuality.factor95;
    lines.push(
      `${verticalQuality.pointsFitted} points fitted in height (${present(site.heightKind, 'heightKind')}), redundancy ${verticalQuality.redundancy}${factorText(fitted.verticalFactor, verticalQuality.sigmasAreStated)}`,
      ...(isUnusable
        ? []
        : [
            `  offset    ${m(vertical.offsetM)}${within(width(0, v, 3, vf), 1, 4, '')} m${fitted.vertical?.isInclined === true ? `; slope east ${formatFixed(vertical.slopeEast * 1e6, 2)}${within(width(1, v, 3, vf), 1e6, 2, '')}, north ${formatFixed(vertical.slopeNorth * 1e6, 2)}${within(width(2, v, 3, vf), 1e6, 2, '')} mm/km` : ''}`,
          ]),
    );
  }
  pushAll(
    lines,
    notes.map((note) => `* ${note}`),
  );
  pushAll(
    lines,
    residualLines(
      'fitted minus control',
      judged.rows.filter((row) => row.role === 'fit'),
    ),
  );
  const checks = judged.rows.filter((row) => row.role === 'check');
  if (checks.length > 0) pushAll(lines, residualLines('kept out of the fit: predicted minus control', checks));
  else lines.push('no point was kept out of the fit: mark one or two with role check');
  if (judged.worst !== null) {
    const { pointId, what, value, test } = judged.worst;
    const rest = judged.rows.filter((row) => row.reasons.includes('site-outlier')).length - 1;
    lines.push(
      `look first at ${pointId}, ${what}: ${test}'s test gives ${formatFixed(Math.abs(value), 2)}${rest > 0 ? `; the ${rest} other flagged may only be pulled by it` : ''}. Mark it check and fit again to see what the others say of it`,
    );
  }
  lines.push(
    isUnusable
      ? 'the site is not to be used: settle what is named first'
      : `the site may be used up to ${formatFixed(site.bufferM, 1)} m outside its control`,
  );
  return lines;
}

function factorText({ estimate, limit }: VarianceFactor, stated: boolean): string {
  if (estimate === null) return ', nothing checks it';
  if (!stated) return `, one sigma of a coordinate ${formatFixed(Math.sqrt(estimate) * 1000, 1)} mm`;
  return `, variance factor ${formatFixed(estimate, 2)} (limit ${formatFixed(limit ?? 0, 2)})`;
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
  const line = (id: string, cells: readonly string[], end: string): string =>
    `  ${id.padEnd(wide)}${cells.map((text) => text.padStart(10)).join('')}${end === '' ? '' : `  ${end}`}`;
  return [
    `${title}, metres:`,
    line('point_id', ['east', 'north', 'height'], ''),
    ...shown.map((row) =>
      line(
        row.pointId,
        [m(row.east?.residualM), m(row.north?.residualM), m(row.height?.residualM)],
        row.verdict === 'within' ? '' : `${row.verdict}: ${row.reasons.join(', ')}`,
      ),
    ),
    ...(sorted.length > SHOWN ? [`  and ${sorted.length - SHOWN} more, all smaller`] : []),
  ];
}
