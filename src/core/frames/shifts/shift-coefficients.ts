import { RADIANS_PER_ARCSECOND } from '../../numeric/angle-units.js';
import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { helmertRotation, invertMatrix3 } from './helmert-rotation.js';
import type { Matrix3 } from './helmert-rotation.js';
import type { RotationForm, Shift, ShiftDirection } from './shift-definition.js';
import { shiftMethodEntry } from './shift-methods.js';
import { shiftParametersAt } from './shift-parameters-at.js';
import { rotationFormOf } from './shift-rotation-form.js';

/** A shift reduced to X′ = C + M X, with the form its rotation was computed in. */
export interface ShiftCoefficients {
  readonly matrix: Matrix3;
  readonly cxM: number;
  readonly cyM: number;
  readonly czM: number;
  readonly rotationForm: RotationForm;
}

/** What a shift without an evaluation point turns about, metres. */
const CENTRE: GeocentricPoint = { xM: 0, yM: 0, zM: 0 };

/**
 * A shift at an epoch, in a direction, as one matrix and one vector.
 *
 * Given: shift; epoch of the coordinates, decimal year, or null; direction. Returned: M and C of
 * X′ = C + M X, with M = (1 + s) R and C = T + P − M P forward; M⁻¹ and −M⁻¹ C inverse, so that
 * the inverse solves the forward equation.
 *
 * Note: a changed sign of every parameter is not the inverse. It falls short by about r² R and
 * s² R, r |T| and s |T|: 0.1 mm for rotations of 1″, more for large translations.
 *
 * Errors: those of `shiftParametersAt`; config-missing where a pivot is needed and absent;
 * config-invalid-value where the parameters would fold space (scale −10⁶ ppm or less).
 * Reference: IOGP-373-7-2 (formulas in `shift-methods.ts`); inverse by solving, own derivation.
 */
export function shiftCoefficients(
  shift: Shift,
  epochYear: number | null,
  direction: ShiftDirection,
): Outcome<ShiftCoefficients> {
  const at = shiftParametersAt(shift, epochYear);
  if (!at.ok) return at;
  const p = at.value;
  const entry = shiftMethodEntry(shift.method);
  const pivot = entry.pivoted ? shift.pivot : null;
  if (entry.pivoted && pivot === null) {
    return failure(
      errorProblem('config-missing', {
        message: `shift ${shift.name} turns about an evaluation point and none is given`,
        hint: 'set pivot_x_m, pivot_y_m and pivot_z_m',
      }),
    );
  }
  const turns = entry.convention !== null;
  const rotationForm = turns ? rotationFormOf(p, shift.rotationMatrix) : 'none';
  const matrix = helmertRotation(
    turns ? p.rxArcsec * RADIANS_PER_ARCSECOND : 0,
    turns ? p.ryArcsec * RADIANS_PER_ARCSECOND : 0,
    turns ? p.rzArcsec * RADIANS_PER_ARCSECOND : 0,
    turns ? 1 + p.dsPpm * 1e-6 : 1,
    entry.convention ?? 'position-vector',
    rotationForm === 'full',
  );
  const inverse = invertMatrix3(matrix);
  if (inverse === null) {
    return failure(
      errorProblem('config-invalid-value', {
        message: `the rotations and scale of shift ${shift.name} cannot be undone`,
        hint: 'rotations are in seconds of arc and the scale difference in parts per million',
      }),
    );
  }
  const { xM: px, yM: py, zM: pz } = pivot ?? CENTRE;
  const cx = p.txM + px - (matrix.m11 * px + matrix.m12 * py + matrix.m13 * pz);
  const cy = p.tyM + py - (matrix.m21 * px + matrix.m22 * py + matrix.m23 * pz);
  const cz = p.tzM + pz - (matrix.m31 * px + matrix.m32 * py + matrix.m33 * pz);
  if (direction === 'forward') return success({ matrix, cxM: cx, cyM: cy, czM: cz, rotationForm });
  return success({
    matrix: inverse,
    cxM: -(inverse.m11 * cx + inverse.m12 * cy + inverse.m13 * cz),
    cyM: -(inverse.m21 * cx + inverse.m22 * cy + inverse.m23 * cz),
    czM: -(inverse.m31 * cx + inverse.m32 * cy + inverse.m33 * cz),
    rotationForm,
  });
}
