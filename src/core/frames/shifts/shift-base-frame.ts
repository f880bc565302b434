import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { RotationForm, Shift, ShiftDirection, ShiftFunction } from './shift-definition.js';
import { applyShift } from './shift-apply.js';
import { shiftCoefficients } from './shift-coefficients.js';

/** The reduction of one base whose national coordinate was broadcast. */
export interface BaseFrameReduction {
  /** The base in the orbit frame at the epoch of observation. */
  readonly baseInOrbitFrame: GeocentricPoint;
  /** What every rover is moved by in the orbit frame: base there − base as broadcast. */
  readonly translation: GeocentricPoint;
  readonly rotationForm: RotationForm;
  /** A rover as the receiver gave it (about the broadcast base) → its national position. */
  readonly reduce: ShiftFunction;
}

/**
 * Frame and epoch of a base (the vector of the receiver stands in the orbit frame, whatever
 * coordinate the base was given).
 *
 * Steps: the base's national coordinate is taken to the orbit frame at the epoch of observation;
 * every rover is moved there by the same translation; every rover is taken to the national frame
 * by the same time-dependent shift. In one: X_nat = B + M (X − B), with B the national coordinate
 * of the base and M the linear part of the shift from orbit frame to national frame. The base so
 * returns to B to the last bit.
 *
 * Given: shift; which of its directions leads from the orbit frame to the national frame; epoch of
 * observation, decimal year; national coordinate of the base at the point the rovers refer to
 * (antenna reference point), metres. Returned: see `BaseFrameReduction`; `reduce` writes metres.
 * Errors: those of `createShiftFunction`; value-out-of-range where the base is not finite.
 * Reference: own derivation from IOGP-373-7-2, EPSG methods 1053 and 1056.
 */
export function baseFrameReduction(
  shift: Shift,
  orbitToNational: ShiftDirection,
  epochYear: number,
  baseNational: GeocentricPoint,
): Outcome<BaseFrameReduction> {
  const nationalToOrbit: ShiftDirection = orbitToNational === 'forward' ? 'inverse' : 'forward';
  const coefficients = shiftCoefficients(shift, epochYear, orbitToNational);
  if (!coefficients.ok) return coefficients;
  const orbit = applyShift(shift, baseNational, epochYear, nationalToOrbit);
  if (!orbit.ok) return orbit;
  const { xM: bx, yM: by, zM: bz } = baseNational;
  const { m11, m12, m13, m21, m22, m23, m31, m32, m33 } = coefficients.value.matrix;
  return success({
    baseInOrbitFrame: orbit.value,
    translation: { xM: orbit.value.xM - bx, yM: orbit.value.yM - by, zM: orbit.value.zM - bz },
    rotationForm: coefficients.value.rotationForm,
    reduce: (xM, yM, zM, out) => {
      const dx = xM - bx;
      const dy = yM - by;
      const dz = zM - bz;
      out.xM = bx + (m11 * dx + m12 * dy + m13 * dz);
      out.yM = by + (m21 * dx + m22 * dy + m23 * dz);
      out.zM = bz + (m31 * dx + m32 * dy + m33 * dz);
    },
  });
}
