import { radiansToDegrees } from '../core/numeric/angle-units.js';
import type { SiteAxes } from '../core/adjustment/site-axes.js';
import type { SiteDocument, SiteQuality } from '../core/adjustment/site-document.js';
import type { PlanePoint } from '../core/adjustment/convex-hull.js';

/** Name and version of a site file; the version rises when a member changes its meaning or goes. */
export const SITE_SCHEMA = 'pegbook-site';
export const SITE_VERSION = 1;

/**
 * A site as JSON text, numbers in full. Members are in docs/file-formats.md. Places and shifts are metres
 * along east and north whatever the columns' axes. The inverse is `readSite`.
 */
export function siteText(site: SiteDocument): string {
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
      scale: horizontal.scale,
      scale_is: site.scaleIsFree ? 'fitted' : 'stated',
      rotation_deg: radiansToDegrees(horizontal.rotationRad),
      covariance_of: ['shift_east_m', 'shift_north_m', 'rotation_rad', 'scale'],
      covariance: transform.horizontalCovariance,
      quality: quality(site.horizontalQuality),
    },
    vertical:
      vertical === null
        ? null
        : {
            height_kind: site.heightKind,
            geoid: site.geoid,
            origin: place(vertical.origin),
            offset_m: vertical.offsetM,
            slope_east: vertical.slopeEast,
            slope_north: vertical.slopeNorth,
            covariance_of: ['offset_m', 'slope_east', 'slope_north'],
            covariance: transform.verticalCovariance,
            hull: transform.verticalHull?.map(place) ?? [],
            quality: site.verticalQuality === null ? null : quality(site.verticalQuality),
          },
    hull: transform.hull.map(place),
    buffer_m: site.bufferM,
    statements: site.statements,
    control: site.control.map((point) => ({
      point_id: point.pointId,
      role: point.role,
      residual_east_m: point.residualEastM,
      residual_north_m: point.residualNorthM,
      residual_height_m: point.residualHeightM,
    })),
    inputs: site.inputs,
  };
  return `${JSON.stringify(document, null, 2)}\n`;
}

function axes({ columns, metresPerUnit }: SiteAxes): object {
  return { columns, metres_per_unit: metresPerUnit };
}

function place({ eastM, northM }: PlanePoint): object {
  return { east_m: eastM, north_m: northM };
}

function quality(value: SiteQuality): object {
  return {
    points_fitted: value.pointsFitted,
    redundancy: value.redundancy,
    variance_factor: value.varianceFactor,
    sigmas: value.sigmasAreStated ? 'stated' : 'not stated',
    factor_95: value.factor95,
  };
}
