import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../../core/ellipsoid/geocentric.js';
import type { ShiftDirection, ShiftFunction } from '../../../core/frames/shifts/shift-definition.js';
import { invertKeptHeight } from '../../../core/frames/shifts/shift-kept-height.js';
import { InternalError } from '../../../records/internal-error.js';
import { emptyPointOnTheWay } from '../point-on-the-way.js';
import type { PointOnTheWay } from '../point-on-the-way.js';
import type { Leg, Move, Step, Way } from '../step.js';
import { recordedOf, reversedLegs, saidOf, wayOf } from '../step.js';
import { heightOnTheWay } from './geocentric-step.js';

/**
 * Datum operations of which one frame has no ellipsoidal heights: latitude and longitude go through all of them, and the
 * height stays as it is. One direction takes the height for the shifted one, as the operation was published; the other
 * solves for the place it came from (`invertKeptHeight`), so that there and back is exact.
 *
 * Given: the operations from the first frame to the second; the ellipsoids of the two; the direction that is solved for.
 */
export function keptHeightStep(legs: readonly Leg[], from: Ellipsoid, to: Ellipsoid, solved: ShiftDirection): Step {
  const back = reversedLegs(legs);
  return {
    forward: placeWay(solved === 'forward' ? solvedMove(legs, from, to) : takenMove(legs, from, to)),
    inverse: placeWay(solved === 'inverse' ? solvedMove(back, to, from) : takenMove(back, to, from)),
    said: (direction) => saidOf(direction === 'forward' ? legs : back),
    recorded: (direction) => recordedOf(direction === 'forward' ? legs : back),
  };
}

function placeWay(run: Move): Way {
  return { needs: 'place', gives: 'place', run };
}

function takenMove(legs: readonly Leg[], from: Ellipsoid, to: Ellipsoid): Move {
  const run = through(legs);
  return (point) => {
    const start = geodeticToGeocentric(positionOf(point), from);
    run(start.xM, start.yM, start.zM, point);
    return put(point, geocentricToGeodetic(point, to));
  };
}

function solvedMove(legs: readonly Leg[], from: Ellipsoid, to: Ellipsoid): Move {
  const run = through(legs);
  return (point) => put(point, invertKeptHeight(run, positionOf(point), from, to));
}

function positionOf(point: PointOnTheWay): Parameters<typeof geodeticToGeocentric>[0] {
  return {
    latitudeDeg: point.latitudeDeg,
    longitudeDeg: point.longitudeDeg,
    ellipsoidalHeightM: heightOnTheWay(point),
  };
}

function put(point: PointOnTheWay, place: { readonly latitudeDeg: number; readonly longitudeDeg: number }): null {
  point.latitudeDeg = place.latitudeDeg;
  point.longitudeDeg = place.longitudeDeg;
  return null;
}

/** Legs from X, Y, Z to X, Y, Z as one function. */
function through(legs: readonly Leg[]): ShiftFunction {
  const scratch = emptyPointOnTheWay();
  const moves = legs.map((leg) => {
    const way = wayOf(leg);
    if (way.needs !== 'geocentric' || way.gives !== 'geocentric')
      throw new InternalError('heights are kept through geocentric operations only');
    return way.run;
  });
  return (xM, yM, zM, out) => {
    scratch.xM = xM;
    scratch.yM = yM;
    scratch.zM = zM;
    for (let i = 0; i < moves.length; i += 1) (moves[i] as Move)(scratch);
    out.xM = scratch.xM;
    out.yM = scratch.yM;
    out.zM = scratch.zM;
  };
}
