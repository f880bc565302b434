import { errorProblem } from '../../records/problem.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeodeticPoint } from '../../records/point.js';
import type { Ellipsoid } from './ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from './geocentric.js';
import type { Shift, ShiftDirection } from './shift-definition.js';
import { applyShift } from './shift-apply.js';

/**
 * One geodetic position through a shift: geodetic → geocentric → shifted → geodetic.
 *
 * Given: shift; latitude, longitude (degrees) and ellipsoidal height (metres) on the ellipsoid of
 * the side it comes from; that ellipsoid; the ellipsoid of the side it goes to; epoch of the
 * coordinates, decimal year, or null where the shift has no rates; direction.
 * Returned: latitude, longitude, height on the other side. Where the shift keeps heights, the
 * height given comes back unchanged; it is still used on the way, where a height wrong by 100 m
 * moves the position by about 1 mm per 60 m of shift.
 * Errors: latitude-out-of-range; those of `applyShift`.
 * Reference: IOGP-373-7-2, EPSG methods 9603, 9606, 9607, 1035, 1037, 1038, 1054, 1055, 1057,
 * 1058, 1039, 1062, 1063 and 9636. Inverse: the same function with direction and ellipsoids
 * exchanged.
 */
export function shiftGeodetic(
  shift: Shift,
  point: GeodeticPoint,
  fromEllipsoid: Ellipsoid,
  toEllipsoid: Ellipsoid,
  epochYear: number | null,
  direction: ShiftDirection,
): Outcome<GeodeticPoint> {
  if (!(Math.abs(point.latitudeDeg) <= 90)) {
    return failure(errorProblem('latitude-out-of-range', {
      message: `latitude ${String(point.latitudeDeg)} is outside -90..90`,
    }));
  }
  const shifted = applyShift(shift, geodeticToGeocentric(point, fromEllipsoid), epochYear, direction);
  if (!shifted.ok) return shifted;
  const geodetic = geocentricToGeodetic(shifted.value, toEllipsoid);
  return success(shift.heights === 'kept' ? { ...geodetic, ellipsoidalHeightM: point.ellipsoidalHeightM } : geodetic);
}
