import type { GeographicSystem } from '../../core/grid/systems/geographic-system.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { AreaOfUse } from '../../core/projection/definition/system-definition.js';
import type { Form } from './point-on-the-way.js';
import { reversedLegs, wayOf } from './step.js';
import type { Leg } from './step.js';

/** One end of a transformation: what its coordinates are, and the geographic system underneath. */
export interface TransformSide {
  readonly kind: 'projected' | 'geographic' | 'geocentric';
  /** Code, or the definition where there is none. */
  readonly name: string;
  readonly geographic: GeographicSystem;
  /** With `projected` only. */
  readonly grid: GridSystem | null;
  readonly areaOfUse: AreaOfUse | null;
}

/**
 * A transformation as steps between two systems. Conversions between the forms of a point (`composeTransform` puts them
 * in) and the judgement of places are no part of it.
 */
export interface TransformPlan {
  readonly from: TransformSide;
  readonly to: TransformSide;
  /** From the coordinates of the file to those of its system: off the ground, off a site, out of topocentric axes. */
  readonly entry: readonly Leg[];
  /** In the frame of the source. */
  readonly atSource: readonly Leg[];
  /** From the frame of the source to that of the target; empty where they are one. */
  readonly change: readonly Leg[];
  /** In the frame of the target. */
  readonly atTarget: readonly Leg[];
  /** From the system of the target to the coordinates that are written. */
  readonly exit: readonly Leg[];
  /** Whether latitude and longitude in the target's frame are needed whatever the target (GeoJSON, areas of operations). */
  readonly needsPlace: boolean;
  /** Whether places that are doubtful in themselves are refused; a site judges its points by its control. */
  readonly judges: { readonly source: boolean; readonly target: boolean };
  /** Positions that look exchanged, in feet or without a constant are taken as they stand, with a warning. */
  readonly acceptsPosition: boolean;
}

const FORMS = { projected: 'plane', geographic: 'place', geocentric: 'geocentric' } as const;

/** The form of a system's coordinates. */
export function formOfSide(side: TransformSide): Form {
  return FORMS[side.kind];
}

/** The form of the coordinates in the file. */
export function formRead({ from, entry: [first] }: TransformPlan): Form {
  return first === undefined ? formOfSide(from) : wayOf(first).needs;
}

/** The form of the coordinates that are written. */
export function formWritten({ to, exit }: TransformPlan): Form {
  const last = exit.at(-1);
  return (last === undefined ? null : wayOf(last).gives) ?? formOfSide(to);
}

/**
 * The way back: every leg the other way, in the other order.
 *
 * @example
 * const side = (name) => ({ kind: 'geocentric', name, geographic: loadGeographicSystem(name).value, grid: null, areaOfUse: null });
 * const named = (name) => ({ ...side(name), label: name, toWgs84: null, definition: null });
 * const change = { operations: ['EPSG:1504'], acceptsDefault: false, inverse: false, epochYear: null, motion: null, chainBy: null, chainModel: null };
 * const heights = { given: null, wanted: null, loadGeoid: null, statedFrame: null };
 * const asked = { shift: null, end: null, needsPlace: false, acceptsPosition: false };
 * const planned = await planTransform({ from: named('EPSG:4222'), to: named('EPSG:4148'), change, heights, ...asked });
 * const back = reversedPlan(planned.value.plan);
 * const [point, home] = [emptyPointOnTheWay(), emptyPointOnTheWay()];
 * const row = { first: 5000000, second: 2000000, third: -3400000, ellipsoidalHeightM: null, orthometricHeightM: null };
 * composeTransform(planned.value.plan)(row, point);
 * composeTransform(back)({ ...row, first: point.xM, second: point.yM, third: point.zM }, home);
 * [back.from.name, home.xM, home.yM, home.zM]; // ['EPSG:4148', 5000000.000, 2000000.000, -3400000.000]
 */
export function reversedPlan(plan: TransformPlan): TransformPlan {
  return {
    ...plan,
    from: plan.to,
    to: plan.from,
    entry: reversedLegs(plan.exit),
    atSource: reversedLegs(plan.atTarget),
    change: reversedLegs(plan.change),
    atTarget: reversedLegs(plan.atSource),
    exit: reversedLegs(plan.entry),
    judges: { source: plan.judges.target, target: plan.judges.source },
  };
}

/** Whether the pair of the source is the pair of the target: one grid, and nothing moves the points between. */
export function isOnePlane({ from, to, change }: TransformPlan): boolean {
  return from.grid !== null && to.grid !== null && from.name === to.name && change.length === 0;
}
