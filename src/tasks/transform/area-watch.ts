import { isInsideShiftArea } from '../../core/frames/operations/operation-area.js';
import { distanceToAreaKm, isInsideArea } from '../../core/grid/systems/area-of-use.js';
import type { PlaceRow } from '../../records/points/place-row.js';
import { warningProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { WatchedOperation } from './change/shift-change.js';
import type { PointOnTheWay } from './point-on-the-way.js';
import type { TransformSide } from './transform-plan.js';

/** Points outside areas, counted while they go by. */
export interface AreaWatch {
  /**
   * A warning for a point outside the target's area of use, with the distance; null inside. Marks the point where it is
   * outside the zone that it comes from, or the area of an operation.
   */
  readonly check: (row: Pick<PlaceRow, 'pointId'>, point: PointOnTheWay) => Problem | null;
  /** Whether the point lies inside the areas that are looked at here: those of the operations, and the zone that it comes from. */
  readonly isInside: (point: PointOnTheWay) => boolean;
  /** What to say of the run: one line for the target, one for each operation whose area was left. */
  readonly summary: () => readonly string[];
}

/** Points outside one area. */
interface Outside {
  count: number;
  farthestKm: number;
  farthestId: string;
}

/**
 * Watches for points outside the area of use of the target, outside that of the zone they come from, and outside the
 * areas of the operations.
 * Given: the projected system the points come from, or null where their place in it is not looked at; the target; the
 * operations. Returned: see `AreaWatch`. The distance is good to half a percent.
 */
export function createAreaWatch(
  from: TransformSide | null,
  to: TransformSide,
  operations: readonly WatchedOperation[],
): AreaWatch {
  const target: Outside = { count: 0, farthestKm: 0, farthestId: '' };
  const source: Outside = { count: 0, farthestKm: 0, farthestId: '' };
  const watched = operations.map(({ name, area }) => ({ name, area, count: 0, firstId: '' }));
  const fromArea = from?.areaOfUse ?? null;
  return {
    isInside({ latitudeDeg, longitudeDeg }) {
      for (let index = 0; index < watched.length; index += 1)
        if (!isInsideShiftArea((watched[index] as WatchedOperation).area, latitudeDeg, longitudeDeg)) return false;
      return fromArea === null || isInsideArea(fromArea, latitudeDeg, longitudeDeg);
    },
    check(row, point) {
      const { latitudeDeg, longitudeDeg } = point;
      const isOutsideTarget = point.isOutsideArea;
      for (const one of watched) {
        if (isInsideShiftArea(one.area, latitudeDeg, longitudeDeg)) continue;
        one.count += 1;
        point.isOutsideArea = true;
        if (one.count === 1) one.firstId = row.pointId;
      }
      // The place in the target's frame: near enough, as the areas are boxes of whole kilometres.
      if (fromArea !== null && !isInsideArea(fromArea, latitudeDeg, longitudeDeg)) {
        add(source, row.pointId, distanceToAreaKm(fromArea, latitudeDeg, longitudeDeg));
        point.isOutsideArea = true;
      }
      if (!isOutsideTarget || to.areaOfUse === null) return null;
      const km = distanceToAreaKm(to.areaOfUse, latitudeDeg, longitudeDeg);
      add(target, row.pointId, km);
      return warningProblem('coordinate-outside-area', {
        message: `point ${row.pointId} is ${kilometres(km)} outside the area of use of ${to.name}: ${to.areaOfUse.description.replace(/\.$/u, '')}`,
        hint: 'check the zone; scale factor and convergence grow outside it',
      });
    },
    summary: () => [
      ...said(target, `outside the area of use of ${to.name}`, ''),
      ...(from === null
        ? []
        : said(
            source,
            `outside the area of use of ${from.name}, which the file is said to be in`,
            ': is it their zone?',
          )),
      ...watched.flatMap(({ name, area, count, firstId }) => {
        if (count === 0) return [];
        const which = count === 1 ? `point ${firstId} is` : `${String(count)} points, ${firstId} the first, are`;
        return [
          `${which} outside the area ${name} was published for (${area.description}): its stated accuracy does not hold there`,
        ];
      }),
    ],
  };
}

function add(outside: Outside, pointId: string, km: number): void {
  outside.count += 1;
  if (km <= outside.farthestKm) return;
  outside.farthestKm = km;
  outside.farthestId = pointId;
}

function said({ count, farthestKm, farthestId }: Outside, where: string, question: string): readonly string[] {
  return count === 0
    ? []
    : [
        `${String(count)} ${count === 1 ? 'point is' : 'points are'} ${where}, the farthest by ${kilometres(farthestKm)} (${farthestId})${question}`,
      ];
}

function kilometres(km: number): string {
  return km < 10 ? `${String(Math.round(km * 10) / 10)} km` : `${String(Math.round(km))} km`;
}
