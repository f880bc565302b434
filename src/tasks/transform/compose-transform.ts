import { implausibleGeocentric } from '../../core/ellipsoid/implausible-geocentric.js';
import { InternalError } from '../../records/internal-error.js';
import type { PlaceRow } from '../../records/points/place-row.js';
import type { Problem } from '../../records/problem.js';
import { judgeHeight, judgeSource, judgeTarget } from './judge-place.js';
import { beginWay } from './point-on-the-way.js';
import type { Form, PointOnTheWay } from './point-on-the-way.js';
import { wayOf } from './step.js';
import type { Leg, Move } from './step.js';
import { geocentricStep } from './steps/geocentric-step.js';
import { projectionStep } from './steps/projection-step.js';
import { formOfSide, formRead, isOnePlane } from './transform-plan.js';
import type { TransformPlan, TransformSide } from './transform-plan.js';

/** Carries a row into `point`; null, or the error that keeps it from being transformed, without its place in the file. */
export type RowCarrier = (row: PlaceRow, point: PointOnTheWay) => Problem | null;

/**
 * A transformation made ready for many points: the legs of the plan in their order, with the conversions between plane,
 * latitude and longitude, and X, Y, Z put in where the next leg needs another form than there is.
 *
 * Order: legs of the entry; judgement of the place in the source; legs at the source; change of frame; legs at the
 * target; judgement of the place in the target; legs of the exit.
 *
 * @example
 * // EPSG:1504 is a translation of (-134.73, -110.92, -292.66) m.
 * const side = (name) => ({ kind: 'geocentric', name, geographic: loadGeographicSystem(name).value, grid: null, areaOfUse: null });
 * const named = (name) => ({ ...side(name), label: name, toWgs84: null, definition: null });
 * const change = { operations: ['EPSG:1504'], acceptsDefault: false, inverse: false, epochYear: null, motion: null, chainBy: null, chainModel: null };
 * const heights = { given: null, wanted: null, loadGeoid: null, statedFrame: null };
 * const asked = { shift: null, end: null, needsPlace: false, acceptsPosition: false };
 * const planned = await planTransform({ from: named('EPSG:4222'), to: named('EPSG:4148'), change, heights, ...asked });
 * const carry = composeTransform(planned.value.plan);
 * const point = emptyPointOnTheWay();
 * carry({ pointId: '1', first: 5e6, second: 2e6, third: -34e5, ellipsoidalHeightM: null, orthometricHeightM: null }, point); // null
 * const row = { first: 5000000, second: 2000000, third: -3400000, ellipsoidalHeightM: null, orthometricHeightM: null };
 * carry(row, point) ?? [point.xM, point.yM, point.zM]; // [4999865.27, 1999889.08, -3400292.66]
 */
export function composeTransform(plan: TransformPlan, watch: WatchLeg | null = null): RowCarrier {
  const { from, to, change } = plan;
  const route = openRoute(plan, watch);
  for (const leg of plan.entry) route.take(leg, from);
  const judge = plan.judges.source && !startsInPlane(change) ? judgeSource(plan) : null;
  if (from.kind === 'projected' && judge !== null) route.reach('place', from);
  if (judge !== null) route.look(judge);
  for (const leg of plan.atSource) route.take(leg, from);
  change.forEach((leg, index) => {
    route.take(leg, index === 0 ? from : null);
  });
  route.enterFrame();
  for (const leg of plan.atTarget) route.take(leg, to);
  const judgesTarget = plan.judges.target ? judgeTarget(plan) : null;
  if (plan.needsPlace || judgesTarget !== null) route.reach('place', to);
  if (to.kind === 'geocentric') {
    route.reach('geocentric', to);
    route.look(judgeHeight(plan));
  }
  if (judgesTarget !== null) route.look(judgesTarget);
  route.reach(formOfSide(to), to);
  for (const leg of plan.exit) route.take(leg, to);
  return carrier(formRead(plan), route.moves);
}

/** What a leg did to a point: told before and after it, for the worked explanation. `side`: of a conversion, its frame. */
export interface WatchLeg {
  readonly before: (point: PointOnTheWay) => void;
  readonly after: (leg: Leg, side: TransformSide | null, point: PointOnTheWay) => void;
}

function watched(leg: Leg, side: TransformSide | null, watch: WatchLeg | null): Move {
  const { run } = wayOf(leg);
  if (watch === null) return run;
  return (point) => {
    watch.before(point);
    const problem = run(point);
    if (problem === null) watch.after(leg, side, point);
    return problem;
  };
}

/** The moves of a route as it is laid, and the forms that hold at its end. */
interface Route {
  readonly moves: readonly Move[];
  /** Lays a leg; `side` is the frame of a conversion that it may need, null where there can be none. */
  readonly take: (leg: Leg, side: TransformSide | null) => void;
  /** Lays conversions until the form holds. */
  readonly reach: (form: Form, side: TransformSide | null) => void;
  /** Lays a move that changes no coordinate. */
  readonly look: (move: Move) => void;
  /** Goes over to the frame of the target. */
  readonly enterFrame: () => void;
}

function openRoute(plan: TransformPlan, watch: WatchLeg | null): Route {
  const moves: Move[] = [];
  let holds: ReadonlySet<Form> = new Set([formRead(plan)]);
  const convert = (leg: Leg, form: Form, side: TransformSide): void => {
    moves.push(watched(leg, side, watch));
    holds = new Set([...holds, form]);
  };
  const reach = (form: Form, side: TransformSide | null): void => {
    if (holds.has(form)) return;
    if (side === null || form === 'topocentric' || holds.has('topocentric'))
      throw new InternalError(`a step needs ${form} coordinates where there are none`);
    if (form !== 'place') {
      reach('place', side);
      convert({ step: conversion(form, side), direction: 'forward' }, form, side);
    } else {
      const held = holds.has('plane') ? 'plane' : 'geocentric';
      convert({ step: conversion(held, side), direction: 'inverse' }, form, side);
    }
  };
  return {
    moves,
    reach,
    take(leg, side) {
      const way = wayOf(leg);
      reach(way.needs, side);
      moves.push(watched(leg, null, watch));
      if (way.gives !== null) holds = new Set([way.gives]);
    },
    look: (move) => moves.push(move),
    enterFrame() {
      if (plan.change.length > 0) {
        if (holds.has('geocentric'))
          moves.push((point) => (isFinitePoint(point) ? null : implausibleGeocentric(point, null)));
        return;
      }
      // The pair of one grid says nothing in another.
      if (!holds.has('plane') || isOnePlane(plan)) return;
      reach('place', plan.from);
      holds = new Set([...holds].filter((form) => form !== 'plane'));
    },
  };
}

function conversion(form: 'plane' | 'geocentric', side: TransformSide): Leg['step'] {
  if (form === 'geocentric') return geocentricStep(side.geographic.ellipsoid);
  if (side.grid === null) throw new InternalError(`${side.name} has no grid`);
  return projectionStep(side.grid);
}

function startsInPlane([first]: readonly Leg[]): boolean {
  return first !== undefined && wayOf(first).needs === 'plane';
}

function isFinitePoint({ xM, yM, zM }: PointOnTheWay): boolean {
  return Number.isFinite(xM + yM + zM);
}

function carrier(form: Form, moves: readonly Move[]): RowCarrier {
  return (row, point) => {
    beginWay(point, row.ellipsoidalHeightM, row.orthometricHeightM);
    enter(row, form, point);
    for (let i = 0; i < moves.length; i += 1) {
      const problem = (moves[i] as Move)(point);
      if (problem !== null) return problem;
    }
    return null;
  };
}

/** The coordinates of a row under the names of their form. */
function enter(row: PlaceRow, form: Form, point: PointOnTheWay): void {
  switch (form) {
    case 'plane':
      point.first = row.first;
      point.second = row.second;
      return;
    case 'place':
      point.latitudeDeg = row.first;
      point.longitudeDeg = row.second;
      return;
    case 'geocentric':
      point.xM = row.first;
      point.yM = row.second;
      point.zM = row.third;
      return;
    case 'topocentric':
      point.eastM = row.first;
      point.northM = row.second;
      point.upM = row.third;
  }
}
