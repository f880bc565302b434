import { changeOfSteps } from '../../src/cli/commands/transform/options/frame-change.js';
import type { Ellipsoid } from '../../src/core/ellipsoid/ellipsoid.js';
import type { Shift, ShiftDirection } from '../../src/core/frames/shifts/shift-definition.js';
import { failure, success } from '../../src/records/outcome.js';
import type { Outcome } from '../../src/records/outcome.js';
import type { GeodeticPoint } from '../../src/records/points/point.js';
import { createPointTransformer } from '../../src/tasks/transform/transform-point.js';
import type { FrameChange, TransformSide } from '../../src/tasks/transform/transform-setup.js';
import { emptyTransformedPoint } from '../../src/tasks/reduce/transformed-point.js';

/** Shifts one after the other, each in its direction. */
export type ShiftSteps = readonly (readonly [Shift, ShiftDirection])[];

/** The change of frame that `transform` makes of shifts, at an epoch. */
export function changeBy(steps: ShiftSteps, epochYear: number | null): Outcome<FrameChange> {
  const named = steps.map(([shift, direction]) => ({ shift, direction, id: shift.name, caution: null }));
  const made = changeOfSteps(named, {
    shift: null,
    operations: [],
    acceptsDefault: false,
    inverse: false,
    epochYear,
    motion: null,
  });
  return made.ok ? success(made.value.change) : made;
}

/** A place taken from one frame to another by shifts, on the way that every row of `transform` goes. */
export function placeMover(
  steps: ShiftSteps,
  from: Ellipsoid,
  to: Ellipsoid,
  epochYear: number | null,
): Outcome<(place: GeodeticPoint) => Outcome<GeodeticPoint>> {
  const change = changeBy(steps, epochYear);
  if (!change.ok) return change;
  const run = createPointTransformer({
    from: sideOn(from),
    to: sideOn(to),
    change: change.value,
    stepIn: null,
    stepOut: null,
    toEllipsoidal: null,
    toOrthometric: null,
    verticalM: null,
    needsPlace: false,
    acceptsPosition: false,
  });
  return success(({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }) => {
    const out = emptyTransformedPoint();
    const row = {
      pointId: '1',
      first: latitudeDeg,
      second: longitudeDeg,
      third: 0,
      ellipsoidalHeightM,
      orthometricHeightM: null,
      passThrough: [],
      line: 1,
      record: 1,
    };
    const problem = run(row, out);
    if (problem !== null) return failure(problem);
    if (out.ellipsoidalHeightM === null) throw new Error('the height is lost');
    return success({ latitudeDeg: out.first, longitudeDeg: out.second, ellipsoidalHeightM: out.ellipsoidalHeightM });
  });
}

function sideOn(ellipsoid: Ellipsoid): TransformSide {
  const geographic = {
    code: null,
    name: ellipsoid.name,
    ellipsoid,
    primeMeridianDeg: 0,
    datumShift: null,
    areaOfUse: null,
  };
  return { kind: 'geographic', name: ellipsoid.name, geographic, grid: null, areaOfUse: null, topocentric: null };
}
