import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { MutableGeocentric, Shift, ShiftDirection } from './shift-definition.js';
import { createShiftFunction } from './shift-function.js';

/**
 * One geocentric position through a shift. For many points use `createShiftFunction`.
 *
 * Given: shift; X, Y, Z, metres; epoch of the coordinates, decimal year, or null where the shift
 * has no rates; direction. Returned: X, Y, Z in the other frame, metres.
 * Errors: those of `createShiftFunction`; value-out-of-range where the position is not finite.
 * Reference: IOGP-373-7-2. Inverse: the same function with the direction exchanged.
 */
export function applyShift(
  shift: Shift,
  point: GeocentricPoint,
  epochYear: number | null,
  direction: ShiftDirection,
): Outcome<GeocentricPoint> {
  const shifted = createShiftFunction(shift, epochYear, direction);
  if (!shifted.ok) return shifted;
  const out: MutableGeocentric = { xM: 0, yM: 0, zM: 0 };
  shifted.value(point.xM, point.yM, point.zM, out);
  if (!Number.isFinite(out.xM + out.yM + out.zM)) {
    return failure(
      errorProblem('value-out-of-range', {
        message: 'a geocentric coordinate is not a finite number',
        received: `${String(point.xM)} ${String(point.yM)} ${String(point.zM)}`,
      }),
    );
  }
  return success(out);
}
