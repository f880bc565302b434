import { errorProblem } from '../../records/problem.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeodeticPoint } from '../../records/point.js';
import type { Ellipsoid } from './ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from './geocentric.js';
import type { MutableGeocentric, Shift, ShiftDirection } from './shift-definition.js';
import { createShiftFunction } from './shift-function.js';
import { invertKeptHeight } from './shift-kept-height.js';

/**
 * A shift of geodetic positions made ready for many points: geodetic → geocentric → shifted →
 * geodetic.
 *
 * Given: shift; ellipsoid of the side the points come from; ellipsoid of the side they go to; epoch
 * of the coordinates, decimal year, or null where the shift has no rates; direction.
 * Returned: a function from latitude, longitude (degrees) and ellipsoidal height (metres) to the
 * same on the other side. It expects finite numbers and a latitude in −90…90: the caller has
 * checked. Where the shift keeps heights, the height given comes back unchanged; it is still used
 * on the way, where a height wrong by 100 m moves the position by about 1 mm per 60 m of shift.
 * The inverse of such a shift is solved for too: see `invertKeptHeight`.
 * Errors: those of `createShiftFunction`.
 * Reference: IOGP-373-7-2, EPSG methods 9603, 9606, 9607, 1035, 1037, 1038, 1054, 1055, 1057,
 * 1058, 1039, 1062, 1063 and 9636. Inverse: the same function with direction and ellipsoids
 * exchanged.
 */
export function createGeodeticShift(
  shift: Shift,
  fromEllipsoid: Ellipsoid,
  toEllipsoid: Ellipsoid,
  epochYear: number | null,
  direction: ShiftDirection,
): Outcome<(point: GeodeticPoint) => GeodeticPoint> {
  const shifted = createShiftFunction(shift, epochYear, direction);
  if (!shifted.ok) return shifted;
  const run = shifted.value;
  const kept = shift.heights === 'kept';
  if (kept && direction === 'inverse') return success((point) => invertKeptHeight(run, point, fromEllipsoid, toEllipsoid));
  return success((point) => {
    const from = geodeticToGeocentric(point, fromEllipsoid);
    const out: MutableGeocentric = { xM: 0, yM: 0, zM: 0 };
    run(from.xM, from.yM, from.zM, out);
    const geodetic = geocentricToGeodetic(out, toEllipsoid);
    return kept
      ? {
          latitudeDeg: geodetic.latitudeDeg,
          longitudeDeg: geodetic.longitudeDeg,
          ellipsoidalHeightM: point.ellipsoidalHeightM,
        }
      : geodetic;
  });
}

/**
 * One geodetic position through a shift. For many points use `createGeodeticShift`.
 *
 * Given: shift; position; and the rest as for `createGeodeticShift`. Returned: position on the
 * other side. Errors: latitude-out-of-range; value-out-of-range where longitude or height is not
 * finite; those of `createGeodeticShift`. Inverse: the same function with direction and ellipsoids
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
  if (!Number.isFinite(point.longitudeDeg + point.ellipsoidalHeightM)) {
    return failure(errorProblem('value-out-of-range', {
      message: `longitude ${String(point.longitudeDeg)} or height ${String(point.ellipsoidalHeightM)} is not a finite number`,
    }));
  }
  const run = createGeodeticShift(shift, fromEllipsoid, toEllipsoid, epochYear, direction);
  return run.ok ? success(run.value(point)) : run;
}
