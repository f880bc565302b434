import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { geocentricToGeodetic } from '../../ellipsoid/geocentric.js';
import type { MutableGeocentric } from '../shifts/shift-definition.js';

/** Translations along X, Y, Z at a place, metres, put into `out`; false, and `out` untouched, where there are none. */
export type TranslationsAt = (latitudeDeg: number, longitudeDeg: number, out: MutableGeocentric) => boolean;

/** Carries X, Y, Z into `out`; false outside the grid, or where the way does not settle. */
export type GeocentricWay = (xM: number, yM: number, zM: number, out: MutableGeocentric) => boolean;

/** A turn that changes less ends it, metres: twice what a double holds at the size of the Earth. */
const SETTLED_M = 2e-9;
/** Translations of neighbouring places differ by less than a thousandth of their distance, so that each turn gains three digits. */
const MOST_TURNS = 20;

/**
 * A geocentric translation by a grid: X′ = X + T(φ, λ).
 *
 * Given: the translations; whose latitude and longitude they stand at, the source's or the target's, and the ellipsoid of that one.
 * Returned: the two ways. One reads the grid at the point in hand, the other solves for the point that it comes to, by turns that
 * read the grid there; there and back agree to a nanometre.
 * Reference: PROJ-DOC, geocentric grid shift, `grid_ref`; GTG, TYPE GEOCENTRIC_TRANSLATION.
 */
export function geocentricGridShift(
  translationsAt: TranslationsAt,
  readAt: 'source' | 'target',
  ellipsoid: Ellipsoid,
): { readonly forward: GeocentricWay; readonly inverse: GeocentricWay } {
  const translation = { xM: 0, yM: 0, zM: 0 };
  const read = (point: MutableGeocentric): boolean => {
    const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(point, ellipsoid);
    return translationsAt(latitudeDeg, longitudeDeg, translation);
  };
  const direct =
    (sign: 1 | -1): GeocentricWay =>
    (xM, yM, zM, out) => {
      if (!read({ xM, yM, zM })) return false;
      out.xM = xM + sign * translation.xM;
      out.yM = yM + sign * translation.yM;
      out.zM = zM + sign * translation.zM;
      return true;
    };
  const solved =
    (sign: 1 | -1): GeocentricWay =>
    (xM, yM, zM, out) => {
      const at = { xM, yM, zM };
      for (let turn = 0; turn < MOST_TURNS; turn += 1) {
        if (!read(at)) return false;
        const [x, y, z] = [xM + sign * translation.xM, yM + sign * translation.yM, zM + sign * translation.zM];
        const moved = Math.max(Math.abs(x - at.xM), Math.abs(y - at.yM), Math.abs(z - at.zM));
        at.xM = x;
        at.yM = y;
        at.zM = z;
        if (moved > SETTLED_M) continue;
        out.xM = x;
        out.yM = y;
        out.zM = z;
        return true;
      }
      return false;
    };
  return readAt === 'source'
    ? { forward: direct(1), inverse: solved(-1) }
    : { forward: solved(1), inverse: direct(-1) };
}
