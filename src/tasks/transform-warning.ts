import { isInsideShiftArea } from '../core/geodesy/operation-area.js';
import type { ShiftArea } from '../core/geodesy/shift-definition.js';
import { distanceToAreaKm } from '../core/grid/area-of-use.js';
import { warningProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import type { TransformedPoint } from './transform-point.js';
import type { TransformSide } from './transform-setup.js';

/** Points outside areas, counted while they go by. */
export interface AreaWatch {
  /** A warning for a point outside the target's area of use, with the distance; null inside. */
  readonly check: (pointId: string, point: TransformedPoint) => Problem | null;
  /** What to say of the run: one line for the target, one for each operation whose area was left. */
  readonly summary: () => readonly string[];
}

/** An operation's name and the area it was published for. */
export interface WatchedOperation {
  readonly name: string;
  readonly area: ShiftArea;
}

/**
 * Watches for points outside the area of use of the target, and outside the areas of the operations.
 * Given: the target; the operations. Returned: see `AreaWatch`. The distance is good to half a percent.
 */
export function createAreaWatch(to: TransformSide, operations: readonly WatchedOperation[]): AreaWatch {
  let outside = 0;
  let farthestKm = 0;
  let farthestId = '';
  const left = operations.map(() => 0);
  const firstId = operations.map(() => '');
  return {
    check(pointId, point) {
      operations.forEach(({ area }, index) => {
        if (isInsideShiftArea(area, point.latitudeDeg, point.longitudeDeg)) return;
        left[index] = (left[index] ?? 0) + 1;
        if (left[index] === 1) firstId[index] = pointId;
      });
      if (!point.isOutsideArea || to.areaOfUse === null) return null;
      const km = distanceToAreaKm(to.areaOfUse, point.latitudeDeg, point.longitudeDeg);
      outside += 1;
      if (km > farthestKm) {
        farthestKm = km;
        farthestId = pointId;
      }
      return warningProblem('coordinate-outside-area', {
        message: `point ${pointId} is ${kilometres(km)} outside the area of use of ${to.name}: ${to.areaOfUse.description.replace(/\.$/u, '')}`,
        hint: 'check the zone; scale factor and convergence grow outside it',
      });
    },
    summary: () => [
      ...(outside === 0 ? [] : [`${String(outside)} ${outside === 1 ? 'point is' : 'points are'} outside the area of use of ${to.name}, the farthest by ${kilometres(farthestKm)} (${farthestId})`]),
      ...operations.flatMap(({ name, area }, index) => {
        const count = left[index] ?? 0;
        if (count === 0) return [];
        const which = count === 1 ? `point ${firstId[index] ?? ''} is` : `${String(count)} points, ${firstId[index] ?? ''} the first, are`;
        return [`${which} outside the area ${name} was published for (${area.description}): its stated accuracy does not hold there`];
      }),
    ],
  };
}

function kilometres(km: number): string {
  return km < 10 ? `${String(Math.round(km * 10) / 10)} km` : `${String(Math.round(km))} km`;
}
