import type { ResidualLimits } from '../../core/adjustment/residual-tests.js';
import { fromEastNorth } from '../../core/adjustment/site/site-axes.js';
import { spanOf } from '../../core/observation/survey-span.js';
import type { ControlPair } from './control/pair-control.js';
import type { SiteDocument } from '../../core/adjustment/site/site-document.js';
import { isSurface, siteSigma, transformToSite } from '../../core/adjustment/site/site-transform.js';
import { radiansToDegrees } from '../../core/numeric/angle-units.js';
import type { SiteParameter, SiteReach, SiteReport } from '../../records/reports/site-report.js';
import type { PageFacts } from '../../records/reports/parts/page-facts.js';
import type { SiteResidualRow } from '../../records/reports/parts/site-fit.js';
import { columnAxes } from '../pages/report-axes.js';
import { keepMostNeeded } from '../repeats/keep-most-needed.js';
import type { FittedSite } from './fit-site.js';
import { halfWidths95 } from './control/half-width.js';
import { surfaceReportOf } from './surface/surface-report-of.js';
import { surfaceParameters } from './surface/surface-parameters.js';
import type { JudgedSite } from './judge-site.js';

/** Rows of the tables; a page stays well under two megabytes. */
const MOST_ROWS = 2000;
const STEPS = 60;
const DIRECTIONS = 24;
const REACH = 3;
/** How much a verdict asks for a place on the page. */
const NEED = { within: 0, review: 1, no: 2 } as const;

/** When the control was occupied. */
export function whenOccupied(pairs: readonly ControlPair[]): SiteReport['surveyed'] {
  return spanOf(pairs.map(({ measured }) => measured.row));
}

/** A fitted and judged site as its page shows it. */
export function siteReport(
  site: SiteDocument,
  fitted: FittedSite,
  judged: JudgedSite,
  about: Pick<SiteReport, keyof PageFacts | 'title' | 'surveyed' | 'suspicions' | 'answer' | 'transfers'>,
): SiteReport {
  const { transform } = site;
  return {
    ...about,
    systemName: `${site.system} ${site.systemName}`,
    axes: columnAxes(site.siteAxes.columns, site.siteAxes.metresPerUnit),
    rows: neededRows(judged.rows),
    counts: {
      fit: countOf(judged.rows, ({ role }) => role === 'fit'),
      check: countOf(judged.rows, ({ role }) => role === 'check'),
      no: countOf(judged.rows, ({ verdict }) => verdict === 'no'),
      review: countOf(judged.rows, ({ verdict }) => verdict === 'review'),
    },
    parameters: parametersOf(site),
    redundancyPlan: site.horizontalQuality.redundancy,
    redundancyHeight: site.verticalQuality?.redundancy ?? null,
    variancePlan: site.horizontalQuality.varianceFactor,
    varianceHeight: site.verticalQuality?.varianceFactor ?? null,
    sigmasAreStated: site.horizontalQuality.sigmasAreStated,
    hull: transform.hull.map((corner) => fromEastNorth(site.siteAxes, transformToSite(transform.horizontal, corner))),
    radiusM: fitted.spread.radiusM,
    bufferM: site.bufferM,
    spreadRatio: fitted.spread.eigenvalueRatio,
    reach: reachOf(site, fitted.spread.radiusM),
    heightKind: site.heightKind,
    surface: surfaceOf(site, fitted),
    statements: site.statements,
    worst: judged.worst,
    testLimits: {
      plan: limitOf(judged.horizontalLimits, fitted.sigmasAreStated, 'popePair'),
      height: limitOf(judged.verticalLimits, fitted.heightSigmasAreStated, 'pope'),
    },
  };
}

/** Of Baarda's test where sigmas are stated, else of Pope's. */
function limitOf(limits: ResidualLimits | null, areStated: boolean, pope: 'pope' | 'popePair'): number | null {
  return limits === null ? null : areStated ? limits.baarda : limits[pope];
}

function surfaceOf(site: SiteDocument, { vertical }: FittedSite): SiteReport['surface'] {
  const applied = site.transform.vertical;
  return vertical?.kind === 'surface' && applied !== null && isSurface(applied)
    ? surfaceReportOf(applied, vertical, site)
    : null;
}

function neededRows(rows: readonly SiteResidualRow[]): readonly SiteResidualRow[] {
  const kept = keepMostNeeded<SiteResidualRow>(MOST_ROWS);
  for (const row of rows) kept.add(NEED[row.verdict], row);
  return kept.items();
}

function countOf(rows: readonly SiteResidualRow[], isCounted: (row: SiteResidualRow) => boolean): number {
  return rows.filter(isCounted).length;
}

function parametersOf(site: SiteDocument): readonly SiteParameter[] {
  return [...planParameters(site), ...heightParameters(site)];
}

function planParameters({ transform, scaleIsFree, horizontalQuality }: SiteDocument): readonly SiteParameter[] {
  const { horizontal, horizontalCovariance } = transform;
  const half = halfWidths95(horizontalCovariance, 4, horizontalQuality.factor95);
  return [
    {
      name: 'Scale, as difference from 1',
      value: (horizontal.scale - 1) * 1e6,
      halfWidth95: scaleIsFree ? times(half(3), 1e6) : null,
      unit: scaleIsFree ? 'ppm' : 'ppm, as stated',
      decimals: 2,
    },
    {
      name: 'Rotation; site bearing = grid bearing − rotation',
      value: radiansToDegrees(horizontal.rotationRad),
      halfWidth95: times(half(2), radiansToDegrees(1)),
      unit: '°',
      decimals: 7,
    },
    {
      name: 'Shift east at the middle of the control',
      value: horizontal.targetOrigin.eastM - horizontal.sourceOrigin.eastM,
      halfWidth95: half(0),
      unit: 'm',
      decimals: 4,
    },
    {
      name: 'Shift north at the middle of the control',
      value: horizontal.targetOrigin.northM - horizontal.sourceOrigin.northM,
      halfWidth95: half(1),
      unit: 'm',
      decimals: 4,
    },
  ];
}

function heightParameters({ transform, verticalQuality }: SiteDocument): readonly SiteParameter[] {
  const { vertical, verticalCovariance } = transform;
  if (vertical === null) return [];
  if (isSurface(vertical)) return surfaceParameters(vertical, verticalQuality?.factor95 ?? null);
  const half = halfWidths95(verticalCovariance, 3, verticalQuality?.factor95 ?? null);
  const slope = (name: string, value: number, at: number): SiteParameter => ({
    name,
    value: value * 1e6,
    halfWidth95: times(half(at), 1e6),
    unit: 'mm/km',
    decimals: 2,
  });
  return [
    {
      name: 'Offset in height at the middle',
      value: vertical.offsetM,
      halfWidth95: half(0),
      unit: 'm',
      decimals: 4,
    },
    slope('Slope of height to the east', vertical.slopeEast, 1),
    slope('Slope of height to the north', vertical.slopeNorth, 2),
  ];
}

function times(value: number | null, scale: number): number | null {
  return value === null ? null : value * scale;
}

/** The worst of the directions at each distance, out to three times the reach of the control. */
function reachOf({ transform }: SiteDocument, radiusM: number): readonly SiteReach[] {
  const { eastM, northM } = transform.horizontal.sourceOrigin;
  return Array.from({ length: STEPS + 1 }, (_, step): SiteReach => {
    const distanceM = (REACH * radiusM * step) / STEPS;
    let horizontalM = 0;
    let heightM: number | null = null;
    for (let i = 0; i < DIRECTIONS; i += 1) {
      const angle = (2 * Math.PI * i) / DIRECTIONS;
      const sigma = siteSigma(transform, {
        eastM: eastM + distanceM * Math.sin(angle),
        northM: northM + distanceM * Math.cos(angle),
      });
      horizontalM = Math.max(horizontalM, sigma.eastM, sigma.northM);
      // The first height begins the largest.
      if (sigma.heightM !== null) heightM = Math.max(heightM ?? 0, sigma.heightM);
    }
    return { distanceM, horizontalM, heightM };
  });
}
