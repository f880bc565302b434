import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { shiftCoefficients } from './shift-coefficients.js';
import type { Shift, ShiftDirection, ShiftFunction } from './shift-definition.js';

/**
 * A shift made ready for many points: nothing is allocated per point.
 *
 * Given: shift; epoch of the coordinates, decimal year, or null where the shift has no rates;
 * direction. Returned: a function that reads X, Y, Z (metres) and writes the shifted position into
 * the record it is handed. It expects finite numbers: the caller has checked.
 * Errors: those of `shiftCoefficients`. Reference: IOGP-373-7-2, methods listed in
 * `shift-methods.ts`. Inverse: the same function with the direction exchanged.
 *
 * @example
 * // IOGP 373-7-2, the example of method 1031.
 * const parameters = { txM: 84.87, tyM: 96.49, tzM: 116.95 };
 * const shift = shiftFromSettings({ method: 'geocentric-translation', parameters }).value;
 * const out = { xM: 0, yM: 0, zM: 0 };
 * createShiftFunction(shift, null, 'forward').value(3771793.97, 140253.34, 5124304.35, out);
 * out; // { xM: 3771878.84, yM: 140349.83, zM: 5124421.30 }
 */
export function createShiftFunction(
  shift: Shift,
  epochYear: number | null,
  direction: ShiftDirection,
): Outcome<ShiftFunction> {
  const coefficients = shiftCoefficients(shift, epochYear, direction);
  if (!coefficients.ok) return coefficients;
  const { cxM, cyM, czM } = coefficients.value;
  const { m11, m12, m13, m21, m22, m23, m31, m32, m33 } = coefficients.value.matrix;
  return success((xM, yM, zM, out) => {
    out.xM = cxM + (m11 * xM + m12 * yM + m13 * zM);
    out.yM = cyM + (m21 * xM + m22 * yM + m23 * zM);
    out.zM = czM + (m31 * xM + m32 * yM + m33 * zM);
  });
}
