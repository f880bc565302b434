import type { PlanePoint } from '../convex-hull.js';
import { distanceOutsideHullM } from '../convex-hull.js';
import type { Similarity } from '../fit-similarity.js';
import { heightPlaneAtM } from '../fit-heights.js';
import type { HeightPlane } from '../fit-heights.js';
import { spread } from '../spread.js';
import type { HeightSurface } from '../../heights/height-surface.js';
import { surfaceAtM, surfaceVarianceM2 } from '../../heights/surface-at.js';

/** A fitted site, ready to use. Everything is in metres along east and north, whatever the columns' axes. */
export interface SiteTransform {
  readonly horizontal: Similarity;
  /** Covariance of shift east, shift north, rotation, scale, row by row. */
  readonly horizontalCovariance: readonly number[];
  /** Null: heights are not fitted. */
  readonly vertical: HeightPlane | HeightSurface | null;
  /** Of a plane: covariance of offset, slope east, slope north, row by row. A surface holds its own; null also with `vertical`. */
  readonly verticalCovariance: readonly number[] | null;
  /** Corners of the control in the source system, anticlockwise. */
  readonly hull: readonly PlanePoint[];
  /** Corners of the control whose heights were fitted, likewise; null with `vertical`. */
  readonly verticalHull: readonly PlanePoint[] | null;
}

/** One sigma that the site itself adds to a point: of the fit, without the point's own. */
export interface SiteSigma {
  /** Along the site's east and north. */
  readonly eastM: number;
  readonly northM: number;
  readonly heightM: number | null;
}

/**
 * Source place to site place. Inverse: `transformBack`.
 *
 * @example
 * // Grid north of the site lies a right angle east of north of the source.
 * const origins = { sourceOrigin: { eastM: 0, northM: 0 }, targetOrigin: { eastM: 1000, northM: 2000 } };
 * const similarity = { ...origins, scale: 1, rotationRad: Math.PI / 2 };
 * transformToSite(similarity, { eastM: 100, northM: 0 }); // { eastM: 1000.000, northM: 2100.000 }
 */
export function transformToSite(similarity: Similarity, place: PlanePoint): PlanePoint {
  const { sourceOrigin, targetOrigin, scale, rotationRad } = similarity;
  const x = place.eastM - sourceOrigin.eastM;
  const y = place.northM - sourceOrigin.northM;
  const cosine = scale * Math.cos(rotationRad);
  const sine = scale * Math.sin(rotationRad);
  return { eastM: targetOrigin.eastM + x * cosine - y * sine, northM: targetOrigin.northM + x * sine + y * cosine };
}

/**
 * Site place to source place. Inverse: `transformToSite`.
 *
 * @example
 * const origins = { sourceOrigin: { eastM: 0, northM: 0 }, targetOrigin: { eastM: 1000, northM: 2000 } };
 * const similarity = { ...origins, scale: 1, rotationRad: Math.PI / 2 };
 * transformBack(similarity, { eastM: 1000, northM: 2100 }); // { eastM: 100.000, northM: 0.000 }
 */
export function transformBack(similarity: Similarity, place: PlanePoint): PlanePoint {
  const { sourceOrigin, targetOrigin, scale, rotationRad } = similarity;
  const x = (place.eastM - targetOrigin.eastM) / scale;
  const y = (place.northM - targetOrigin.northM) / scale;
  const cosine = Math.cos(rotationRad);
  const sine = Math.sin(rotationRad);
  return { eastM: sourceOrigin.eastM + x * cosine + y * sine, northM: sourceOrigin.northM - x * sine + y * cosine };
}

/** What the site adds to a measured height at a source place, metres; null where heights are not fitted. */
export function siteHeightShiftM(site: SiteTransform, source: PlanePoint): number | null {
  const { vertical } = site;
  if (vertical === null) return null;
  return isSurface(vertical) ? surfaceAtM(vertical, source) : heightPlaneAtM(vertical, source);
}

/** Whether heights were fitted by trend and signal, and not by a plane alone. */
export function isSurface(vertical: HeightPlane | HeightSurface): vertical is HeightSurface {
  return 'benchmarks' in vertical;
}

/**
 * Metres outside the control, 0 inside: of the hull of its places or of its heights, whichever the
 * point is farther from. Given: a source place.
 */
export function outsideControlM(site: SiteTransform, source: PlanePoint): number {
  const inPlan = distanceOutsideHullM(site.hull, source);
  return site.verticalHull === null ? inPlan : Math.max(inPlan, distanceOutsideHullM(site.verticalHull, source));
}

/**
 * The sigma of the fit at a place: J C Jᵀ with the covariance of the parameters. It is least at the
 * middle of the control and grows without bound away from it.
 *
 * Given: a source place. Returned: metres. It says nothing of what the model leaves out: a plane over a
 * curved geoid is wrong outside its control by more than this.
 *
 * @example
 * // A plane through heights of sigma 1 at the corners of a square of 10 km, 10 km from its middle: NumPy, 1.12.
 * const corners = [[-5e3, -5e3], [5e3, -5e3], [5e3, 5e3], [-5e3, 5e3]].map(([eastM, northM]) => ({ eastM, northM }));
 * const points = corners.map((place) => ({ place, differenceM: 0, varianceM2: 1 }));
 * const { plane, cofactor } = fitHeights(points, true, { eastM: 0, northM: 0 });
 * const horizontal = { sourceOrigin: corners[0], targetOrigin: corners[0], scale: 1, rotationRad: 0 };
 * const site = { horizontal, horizontalCovariance: new Array(16).fill(0), vertical: plane, verticalCovariance: cofactor };
 * siteSigma(site, { eastM: 10e3, northM: 0 }).heightM; // 1.12
 */
export function siteSigma(site: SiteTransform, source: PlanePoint): SiteSigma {
  const { sourceOrigin, scale, rotationRad } = site.horizontal;
  const x = source.eastM - sourceOrigin.eastM;
  const y = source.northM - sourceOrigin.northM;
  const cosine = Math.cos(rotationRad);
  const sine = Math.sin(rotationRad);
  const e = x * cosine - y * sine;
  const n = x * sine + y * cosine;
  const q = site.horizontalCovariance;
  const { vertical, verticalCovariance } = site;
  return {
    eastM: sigmaOf([1, 0, -scale * n, e], q),
    northM: sigmaOf([0, 1, scale * e, n], q),
    heightM: heightSigmaM(vertical, verticalCovariance, source),
  };
}

function heightSigmaM(
  vertical: SiteTransform['vertical'],
  covariance: SiteTransform['verticalCovariance'],
  { eastM, northM }: PlanePoint,
): number | null {
  if (vertical === null) return null;
  if (isSurface(vertical)) return Math.sqrt(surfaceVarianceM2(vertical, { eastM, northM }));
  if (covariance === null) return null;
  return sigmaOf([1, eastM - vertical.origin.eastM, northM - vertical.origin.northM], covariance);
}

function sigmaOf(row: readonly number[], covariance: readonly number[]): number {
  return Math.sqrt(Math.max(0, spread(row, covariance, row)));
}
