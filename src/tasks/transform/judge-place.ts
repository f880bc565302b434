import { implausibleGeocentric } from '../../core/ellipsoid/implausible-geocentric.js';
import { isInsideArea } from '../../core/grid/systems/area-of-use.js';
import {
  doubtOfAccepted,
  exchangedPlace,
  implausiblePair,
  lostSign,
} from '../../core/grid/systems/implausible-place.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { PointOnTheWay } from './point-on-the-way.js';
import { formRead, formWritten } from './transform-plan.js';
import type { TransformPlan } from './transform-plan.js';
import type { Move } from './step.js';

/** Judges the place a row says it has, in the system of the source; null where nothing can be said against any. */
export function judgeSource(plan: TransformPlan): Move | null {
  const { from, acceptsPosition } = plan;
  const { areaOfUse, grid } = from;
  if (from.kind === 'geocentric') {
    const isTopocentric = formRead(plan) === 'topocentric';
    return (point) => {
      const doubt = implausibleGeocentric(point, null);
      return doubt === null || !isTopocentric ? doubt : implausibleGeocentric(point, point);
    };
  }
  if (areaOfUse === null) return null;
  return (point) => {
    const { latitudeDeg, longitudeDeg } = point;
    if (isInsideArea(areaOfUse, latitudeDeg, longitudeDeg)) return null;
    return refusal(
      grid === null
        ? (exchangedPlace(areaOfUse, latitudeDeg, longitudeDeg) ?? lostSign(areaOfUse, latitudeDeg, longitudeDeg))
        : implausiblePair(grid, point.first, point.second, point),
      acceptsPosition,
      point,
    );
  };
}

/** Judges the place in the frame of the target, and notes whether it lies outside its area of use; null without an area. */
export function judgeTarget({ from, to, acceptsPosition }: TransformPlan): Move | null {
  const { areaOfUse } = to;
  if (areaOfUse === null) return null;
  return (point) => {
    point.isOutsideArea = !isInsideArea(areaOfUse, point.latitudeDeg, point.longitudeDeg);
    // The target may be a zone where the source is the whole world: what is far outside may be the other way about.
    return point.isOutsideArea && from.kind === 'geographic'
      ? refusal(exchangedPlace(areaOfUse, point.latitudeDeg, point.longitudeDeg), acceptsPosition, point)
      : null;
  };
}

/** Refuses a point that goes to X, Y, Z without an ellipsoidal height. */
export function judgeHeight(plan: TransformPlan): Move {
  const kind = formWritten(plan);
  return ({ heightStandsIn }) =>
    heightStandsIn
      ? errorProblem('value-missing', {
          message: `${kind} coordinates need the ellipsoidal height of the point, and it is not known`,
          hint: 'add ellipsoidal_height_m, or give --from-height orthometric with --geoid',
        })
      : null;
}

/** The error that refuses the position; a doubt that does not goes with the point. */
function refusal(found: Problem | null, accepts: boolean, point: PointOnTheWay): Problem | null {
  const judged = doubtOfAccepted(found, accepts);
  if (judged?.severity === 'error') return judged;
  if (judged !== null) point.doubts = [...point.doubts, judged];
  return null;
}
