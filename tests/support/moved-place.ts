import type { Ellipsoid } from '../../src/core/ellipsoid/ellipsoid.js';
import type { Shift, ShiftDirection } from '../../src/core/frames/shifts/shift-definition.js';
import { failure, success } from '../../src/records/outcome.js';
import type { Outcome } from '../../src/records/outcome.js';
import type { GeodeticPoint } from '../../src/records/points/point.js';
import { shiftChange } from '../../src/tasks/transform/change/shift-change.js';
import { composeTransform } from '../../src/tasks/transform/compose-transform.js';
import { emptyPointOnTheWay } from '../../src/tasks/transform/point-on-the-way.js';
import type { TransformPlan, TransformSide } from '../../src/tasks/transform/transform-plan.js';

/** Shifts one after the other, each in its direction. */
export type ShiftSteps = readonly (readonly [Shift, ShiftDirection])[];

/** A plan between two ellipsoids, of places or of X, Y, Z, by shifts at an epoch. */
export function planBy(
  steps: ShiftSteps,
  from: Ellipsoid,
  to: Ellipsoid,
  epochYear: number | null,
  kind: 'geographic' | 'geocentric' = 'geographic',
): Outcome<TransformPlan> {
  const [source, target] = [sideOn(from, kind), sideOn(to, kind)];
  const named = steps.map(([shift, direction]) => ({ shift, direction, id: shift.name, caution: null }));
  const made = shiftChange(named, source, target, { epochYear, motion: null });
  if (!made.ok) return made;
  return success({
    from: source,
    to: target,
    entry: [],
    atSource: [],
    change: made.value.change,
    atTarget: [],
    exit: [],
    needsPlace: false,
    judges: { source: true, target: true },
    acceptsPosition: false,
  });
}

/** A place taken from one frame to another by shifts, on the way that every row of `transform` goes. */
export function placeMover(
  steps: ShiftSteps,
  from: Ellipsoid,
  to: Ellipsoid,
  epochYear: number | null,
): Outcome<(place: GeodeticPoint) => Outcome<GeodeticPoint>> {
  const plan = planBy(steps, from, to, epochYear);
  if (!plan.ok) return plan;
  const run = composeTransform(plan.value);
  return success(({ latitudeDeg, longitudeDeg, ellipsoidalHeightM }) => {
    const out = emptyPointOnTheWay();
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
    return success({
      latitudeDeg: out.latitudeDeg,
      longitudeDeg: out.longitudeDeg,
      ellipsoidalHeightM: out.ellipsoidalHeightM,
    });
  });
}

function sideOn(ellipsoid: Ellipsoid, kind: 'geographic' | 'geocentric'): TransformSide {
  const geographic = {
    code: null,
    name: ellipsoid.name,
    ellipsoid,
    primeMeridianDeg: 0,
    datumShift: null,
    areaOfUse: null,
  };
  return { kind, name: ellipsoid.name, geographic, grid: null, areaOfUse: null };
}
