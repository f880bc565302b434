import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { RotationForm, RotationMatrixChoice, Shift, ShiftParameters } from './shift-definition.js';
import { shiftParametersAt } from './shift-parameters-at.js';

/** Rotation above which `automatic` takes the full matrix, seconds of arc. Common practice, no published source. */
export const FULL_ROTATION_ABOVE_ARCSEC = 2;

/**
 * The form of rotation matrix that a set of parameters is computed with.
 *
 * Given: parameters; the choice made for the shift. Returned: `none` without rotations; `full`
 * where asked for, or where `automatic` meets a rotation above 2″; else `small-angle`.
 */
export function rotationFormOf(parameters: ShiftParameters, choice: RotationMatrixChoice): RotationForm {
  const greatest = Math.max(
    Math.abs(parameters.rxArcsec),
    Math.abs(parameters.ryArcsec),
    Math.abs(parameters.rzArcsec),
  );
  if (greatest === 0) return 'none';
  if (choice === 'automatic') return greatest > FULL_ROTATION_ABOVE_ARCSEC ? 'full' : 'small-angle';
  return choice;
}

/**
 * The form of rotation matrix that a shift is computed with at an epoch, for the run record.
 *
 * Given: shift; epoch, decimal year, or null. Returned: as `rotationFormOf`. Errors: those of
 * `shiftParametersAt`.
 */
export function shiftRotationForm(shift: Shift, epochYear: number | null): Outcome<RotationForm> {
  const parameters = shiftParametersAt(shift, epochYear);
  if (!parameters.ok) return parameters;
  return success(
    shift.method === 'geocentric-translation' ? 'none' : rotationFormOf(parameters.value, shift.rotationMatrix),
  );
}
