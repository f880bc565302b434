import { convexHull } from '../../core/adjustment/convex-hull.js';
import type { SiteAxes } from '../../core/adjustment/site/site-axes.js';
import type { SiteControlPoint, SiteDocument, SiteQuality } from '../../core/adjustment/site/site-document.js';
import { timesVarianceFactor } from '../../core/heights/height-surface.js';
import type { SiteTransform } from '../../core/adjustment/site/site-transform.js';
import type { VarianceFactor } from '../../core/adjustment/variance-factor.js';
import type { SiteResidualRow } from '../../records/reports/parts/site-fit.js';
import type { FittedSite } from './fit-site.js';

/** Points may lie outside the control by this part of its radius where nothing else is stated; common practice, no published source. */
export const BUFFER_PART = 0.1;

/** The transform of a fit, its covariance scaled by the variance factor that applies. */
export function siteTransformOf(fitted: FittedSite): SiteTransform {
  const { horizontal, horizontalFactor, horizontalPairs, vertical, verticalFactor, verticalPairs } = fitted;
  const hull = convexHull(horizontalPairs.map((pair) => pair.source));
  return {
    horizontal: horizontal.similarity,
    horizontalCovariance: horizontal.cofactor.map((value) => value * horizontalFactor.applied),
    ...verticalOf(vertical, verticalFactor?.applied ?? 1),
    hull,
    // A shift holds wherever the control in plan does; a plane or a surface only among its own heights.
    verticalHull:
      vertical === null
        ? null
        : vertical.kind === 'plane' && !vertical.isInclined
          ? hull
          : convexHull(verticalPairs.map((pair) => pair.source)),
  };
}

function verticalOf(
  vertical: FittedSite['vertical'],
  varianceFactor: number,
): Pick<SiteTransform, 'vertical' | 'verticalCovariance'> {
  if (vertical === null) return { vertical: null, verticalCovariance: null };
  if (vertical.kind === 'surface')
    return { vertical: timesVarianceFactor(vertical.surface, varianceFactor), verticalCovariance: null };
  return { vertical: vertical.plane, verticalCovariance: vertical.cofactor.map((value) => value * varianceFactor) };
}

/** What the document says besides the fit. */
export interface SiteAbout {
  readonly toolVersion: string;
  readonly title: string;
  readonly system: string;
  readonly systemName: string;
  readonly sourceAxes: SiteAxes;
  readonly siteAxes: SiteAxes;
  readonly heightKind: 'orthometric' | 'ellipsoidal' | null;
  readonly geoid: SiteDocument['geoid'];
  readonly bufferM: number;
  readonly inputs: SiteDocument['inputs'];
}

/** The site document of a judged fit. */
export function siteDocumentOf(
  fitted: FittedSite,
  transform: SiteTransform,
  rows: readonly SiteResidualRow[],
  statements: readonly string[],
  about: SiteAbout,
): SiteDocument {
  return {
    ...about,
    heightKind: transform.vertical === null ? null : about.heightKind,
    geoid: transform.vertical === null ? null : about.geoid,
    transform,
    scaleIsFree: fitted.horizontal.scaleIsFree,
    horizontalQuality: quality(
      fitted.horizontalPairs.length,
      fitted.horizontal.adjustment.redundancy,
      fitted.horizontalFactor,
      fitted.sigmasAreStated,
    ),
    verticalQuality:
      fitted.vertical === null || fitted.verticalFactor === null
        ? null
        : quality(
            fitted.verticalPairs.length,
            fitted.vertical.adjustment.redundancy,
            fitted.verticalFactor,
            fitted.heightSigmasAreStated,
          ),
    statements,
    control: rows.flatMap(controlPoint),
  };
}

function quality(
  pointsFitted: number,
  redundancy: number,
  factor: VarianceFactor,
  sigmasAreStated: boolean,
): SiteQuality {
  return { pointsFitted, redundancy, varianceFactor: factor.estimate, sigmasAreStated, factor95: factor.factor95 };
}

function controlPoint(row: SiteResidualRow): readonly SiteControlPoint[] {
  const { pointId, role, east, north, height } = row;
  if (east === null && north === null && height === null) return [];
  return [
    {
      pointId,
      role,
      residualEastM: east?.residualM ?? null,
      residualNorthM: north?.residualM ?? null,
      residualHeightM: height?.residualM ?? null,
    },
  ];
}
