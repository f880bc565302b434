import { applyShift } from '../../core/frames/shifts/shift-apply.js';
import { baseFrameReduction } from '../../core/frames/shifts/shift-base-frame.js';
import type { BaseFrameReduction } from '../../core/frames/shifts/shift-base-frame.js';
import type {
  MutableGeocentric,
  RotationForm,
  Shift,
  ShiftDirection,
  ShiftFunction,
} from '../../core/frames/shifts/shift-definition.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { GeocentricPoint } from '../../records/points/point.js';

/** The way from the frame of the fixes to the frame of the grid, ready for many points. */
export interface ReductionShift {
  readonly shift: Shift;
  /** The direction that leads from the fixes to the grid. */
  readonly direction: ShiftDirection;
  /** Epoch of the fixes, decimal year; null where the shift does not change with time. */
  readonly epochYear: number | null;
  readonly rotationForm: RotationForm;
  /** The file it was read from; null for a built-in operation. */
  readonly file: { readonly name: string; readonly sha256: string } | null;
  /** Fixes to national, for points without a base. */
  readonly toNational: ShiftFunction;
}

/** A point in the national frame, and what doing it rigorously changed. */
export interface NationalPoint {
  readonly national: GeocentricPoint;
  /** Rigorous minus naive (the base's move alone), length in metres; null without a base. */
  readonly differenceM: number | null;
}

/**
 * The frame reduction of one base: its national coordinate from the one in the frame of the fixes, or the reverse.
 *
 * Given: the shift; the base at its antenna reference point, geocentric metres, and the frame that
 * coordinate is in. Returned: both coordinates, and the reduction of the points measured from it.
 * Problems: those of the shift.
 */
export function reduceBaseFrame(
  use: ReductionShift,
  position: GeocentricPoint,
  frame: 'fixes' | 'national',
): Outcome<{ readonly national: GeocentricPoint; readonly reduction: BaseFrameReduction }> {
  const national =
    frame === 'national' ? success(position) : applyShift(use.shift, position, use.epochYear, use.direction);
  if (!national.ok) return national;
  // A shift that does not change with time reads no epoch, so that any will do.
  const reduction = baseFrameReduction(use.shift, use.direction, use.epochYear ?? 0, national.value);
  return reduction.ok ? success({ national: national.value, reduction: reduction.value }) : reduction;
}

/**
 * A point of the frame of the fixes, after the base correction, in the national frame.
 *
 * With a base the point is taken back by the base's own move and turned about the base's national
 * coordinate, which is the same as shifting it and lets the base return to the last bit; the
 * point before that turn is what moving everything with the base alone would have given.
 */
export function toNationalPoint(
  point: GeocentricPoint,
  base: BaseFrameReduction | null,
  use: ReductionShift,
): NationalPoint {
  const national: MutableGeocentric = { xM: 0, yM: 0, zM: 0 };
  if (base === null) {
    use.toNational(point.xM, point.yM, point.zM, national);
    return { national, differenceM: null };
  }
  const { translation } = base;
  const x = point.xM - translation.xM;
  const y = point.yM - translation.yM;
  const z = point.zM - translation.zM;
  base.reduce(x, y, z, national);
  return { national, differenceM: Math.hypot(national.xM - x, national.yM - y, national.zM - z) };
}
