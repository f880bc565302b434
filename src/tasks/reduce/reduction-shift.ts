import type { GeocentricWay } from '../../core/frames/grids/geocentric-grid.js';
import { everywhere } from '../../core/frames/grids/way-in-space.js';
import { applyShift } from '../../core/frames/shifts/shift-apply.js';
import { baseFrameReduction } from '../../core/frames/shifts/shift-base-frame.js';
import type {
  MutableGeocentric,
  RotationForm,
  Shift,
  ShiftDirection,
} from '../../core/frames/shifts/shift-definition.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { GeocentricPoint } from '../../records/points/point.js';

/** The way from the frame of the fixes to the frame of the grid, ready for many points. */
export interface ReductionShift {
  /**
   * Parameters turn all points of a base about it; place by place each goes its own way, as in a grid of shifts or where one
   * of the frames has no ellipsoidal heights.
   */
  readonly by:
    | { readonly kind: 'parameters'; readonly shift: Shift; readonly rotationForm: RotationForm }
    | { readonly kind: 'places'; readonly methodId: string; readonly keepsHeights: boolean };
  readonly name: string;
  /** Of the registry; null: none. */
  readonly code: string | null;
  readonly accuracyM: number | null;
  readonly source: string | null;
  /** The direction that leads from the fixes to the grid. */
  readonly direction: ShiftDirection;
  /** Epoch of the fixes, decimal year; null where the shift does not change with time. */
  readonly epochYear: number | null;
  /** The file it was read from, with one node of a grid in words; null for a built-in operation. */
  readonly file: { readonly name: string; readonly sha256: string; readonly test: string | null } | null;
  /** Fixes to national, for points without a base; false outside a grid. */
  readonly toNational: GeocentricWay;
  /** Its inverse. */
  readonly toFixes: GeocentricWay;
}

/** How the points of a base come to the frame of the grid. */
export interface BaseMove {
  /** The base in the frame of the fixes. */
  readonly baseInOrbitFrame: GeocentricPoint;
  /** Base there − base in the frame of the grid. */
  readonly translation: GeocentricPoint;
  /** A point that has been taken back by the translation, into the frame of the grid; false outside a grid. */
  readonly reduce: GeocentricWay;
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
 * Problems: those of the shift; grid-outside.
 */
export function reduceBaseFrame(
  use: ReductionShift,
  position: GeocentricPoint,
  frame: 'fixes' | 'national',
): Outcome<{ readonly national: GeocentricPoint; readonly reduction: BaseMove }> {
  if (use.by.kind === 'places') return baseByPlaces(use, position, frame);
  const { shift } = use.by;
  const national = frame === 'national' ? success(position) : applyShift(shift, position, use.epochYear, use.direction);
  if (!national.ok) return national;
  // A shift that does not change with time reads no epoch, so that any will do.
  const reduction = baseFrameReduction(shift, use.direction, use.epochYear ?? 0, national.value);
  if (!reduction.ok) return reduction;
  return success({
    national: national.value,
    reduction: { ...reduction.value, reduce: everywhere(reduction.value.reduce) },
  });
}

/** Every point by the shift of its own place. */
function baseByPlaces(
  use: ReductionShift,
  position: GeocentricPoint,
  frame: 'fixes' | 'national',
): ReturnType<typeof reduceBaseFrame> {
  const other: MutableGeocentric = { xM: NaN, yM: NaN, zM: NaN };
  const run = frame === 'national' ? use.toFixes : use.toNational;
  if (!run(position.xM, position.yM, position.zM, other)) return failure(outsideShift(use));
  const [national, orbit] = frame === 'national' ? [position, other] : [other, position];
  const translation = {
    xM: orbit.xM - national.xM,
    yM: orbit.yM - national.yM,
    zM: orbit.zM - national.zM,
  };
  const reduce: GeocentricWay = (xM, yM, zM, out) =>
    use.toNational(xM + translation.xM, yM + translation.yM, zM + translation.zM, out);
  return success({ national, reduction: { baseInOrbitFrame: orbit, translation, reduce } });
}

/** grid-outside: a place that the grid of shifts of a reduction does not cover. */
export function outsideShift({ name }: ReductionShift): Problem {
  return errorProblem('grid-outside', {
    message: `the place is outside the ${name}, or at a node without a shift`,
    hint: 'use a grid that covers the place; nothing is put in its stead',
  });
}

/**
 * A point of the frame of the fixes, after the base correction, in the national frame; null outside a grid of shifts.
 *
 * With a base the point is taken back by the base's own move and turned about the base's national
 * coordinate, which is the same as shifting it and lets the base return to the last bit; the
 * point before that turn is what moving everything with the base alone would have given.
 */
export function toNationalPoint(
  point: GeocentricPoint,
  base: BaseMove | null,
  use: ReductionShift,
): NationalPoint | null {
  const national: MutableGeocentric = { xM: NaN, yM: NaN, zM: NaN };
  if (base === null)
    return use.toNational(point.xM, point.yM, point.zM, national) ? { national, differenceM: null } : null;
  const { translation } = base;
  const x = point.xM - translation.xM;
  const y = point.yM - translation.yM;
  const z = point.zM - translation.zM;
  if (!base.reduce(x, y, z, national)) return null;
  return { national, differenceM: Math.hypot(national.xM - x, national.yM - y, national.zM - z) };
}
