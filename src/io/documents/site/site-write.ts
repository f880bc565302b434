import { radiansToDegrees } from '../../../core/numeric/angle-units.js';
import { fixedNumber, significantNumber } from '../json/json-numbers.js';
import type { SiteAxes } from '../../../core/adjustment/site/site-axes.js';
import type { SiteDocument, SiteQuality } from '../../../core/adjustment/site/site-document.js';
import type { PlanePoint } from '../../../core/adjustment/convex-hull.js';
import { isSurface } from '../../../core/adjustment/site/site-transform.js';
import type { HeightPlane } from '../../../core/adjustment/fit-heights.js';
import { entryAt } from '../../../records/present.js';
import { surfaceMembers } from './site-surface-write.js';

/** Name and version of a site file; the version rises when a member changes its meaning or goes. */
export const SITE_SCHEMA = 'pegbook-site';
export const SITE_VERSION = 1;

/** Digits kept of covariances: far more than they are known to, and the same on every system. */
const COVARIANCE_DIGITS = 6;

/**
 * A site as JSON text. Lengths are kept to a micrometre, scale and rotation to a picometre a metre. Members are in docs/file-formats.md. Places and shifts are metres
 * along east and north whatever the columns' axes. The inverse is `readSite`, which does not ask for the summary.
 * Given: the site; the answer of the run that fitted it, null: not said.
 */
export function siteText(site: SiteDocument, summary: Readonly<Record<string, unknown>> | null = null): string {
  const { transform } = site;
  const { horizontal, vertical } = transform;
  const document = {
    schema: SITE_SCHEMA,
    version: SITE_VERSION,
    tool_version: site.toolVersion,
    title: site.title,
    source: { system: site.system, name: site.systemName, ...axes(site.sourceAxes) },
    site: axes(site.siteAxes),
    horizontal: {
      source_origin: place(horizontal.sourceOrigin),
      site_origin: place(horizontal.targetOrigin),
      scale: fixedNumber(horizontal.scale, 12),
      scale_is: site.scaleIsFree ? 'fitted' : 'stated',
      rotation_deg: fixedNumber(radiansToDegrees(horizontal.rotationRad), 11),
      covariance_of: ['shift_east_m', 'shift_north_m', 'rotation_rad', 'scale'],
      covariance: covariance(transform.horizontalCovariance),
      quality: quality(site.horizontalQuality),
    },
    vertical:
      vertical === null
        ? null
        : {
            height_kind: site.heightKind,
            geoid: site.geoid,
            ...(isSurface(vertical) ? surfaceMembers(vertical) : planeMembers(vertical, transform.verticalCovariance)),
            // A site whose heights were fitted without one is written with an empty one.
            hull: transform.verticalHull?.map(place) ?? [],
            quality: site.verticalQuality === null ? null : quality(site.verticalQuality),
          },
    hull: transform.hull.map(place),
    buffer_m: fixedNumber(site.bufferM, 6),
    statements: site.statements,
    control: site.control.map((point) => ({
      point_id: point.pointId,
      role: point.role,
      residual_east_m: fixedOrNull(point.residualEastM, 6),
      residual_north_m: fixedOrNull(point.residualNorthM, 6),
      residual_height_m: fixedOrNull(point.residualHeightM, 6),
    })),
    inputs: site.inputs,
    ...(summary !== null && { summary }),
  };
  return `${JSON.stringify(document, null, 2)}\n`;
}

function planeMembers(plane: HeightPlane, covarianceOf: readonly number[] | null): object {
  return {
    origin: place(plane.origin),
    offset_m: fixedNumber(plane.offsetM, 6),
    slope_east: fixedNumber(plane.slopeEast, 12),
    slope_north: fixedNumber(plane.slopeNorth, 12),
    covariance_of: ['offset_m', 'slope_east', 'slope_north'],
    covariance: covarianceOf === null ? null : covariance(covarianceOf),
  };
}

function axes({ columns, metresPerUnit }: SiteAxes): object {
  return { columns, metres_per_unit: metresPerUnit };
}

function fixedOrNull(value: number | null, decimals: number): number | null {
  return value === null ? null : fixedNumber(value, decimals);
}

/** Entries to some digits; those that are only rounding noise beside the diagonal are 0. */
function covariance(values: readonly number[]): readonly number[] {
  const size = Math.sqrt(values.length);
  return values.map((value, index) => {
    const [row, column] = [Math.floor(index / size), index % size];
    const least = 1e-9 * Math.sqrt(Math.abs(entryAt(values, row * (size + 1)) * entryAt(values, column * (size + 1))));
    if (value === 0 || Math.abs(value) <= least) return 0;
    return significantNumber(value, COVARIANCE_DIGITS);
  });
}

function place({ eastM, northM }: PlanePoint): object {
  return { east_m: fixedNumber(eastM, 6), north_m: fixedNumber(northM, 6) };
}

function quality(value: SiteQuality): object {
  return {
    points_fitted: value.pointsFitted,
    redundancy: value.redundancy,
    variance_factor: fixedOrNull(value.varianceFactor, 6),
    sigmas: value.sigmasAreStated ? 'stated' : 'not stated',
    factor_95: fixedOrNull(value.factor95, 6),
  };
}
