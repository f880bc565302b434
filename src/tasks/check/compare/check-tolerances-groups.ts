import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { errorProblem } from '../../../records/problem.js';
import type { Problem } from '../../../records/problem.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { RecordList } from '../../../records/record-list.js';
import type { PlacedPoint } from '../judge/check-tolerances-setup.js';
import { recordAt } from '../../reduce/packing/packed-records.js';

/** Places in a list of points that belong together. */
export type PointGroup = readonly number[];

/** Points of one id each, in the order of their first row. */
export function groupById(points: Iterable<PointRow>): readonly PointGroup[] {
  const groups = new Map<string, number[]>();
  let index = 0;
  for (const { pointId } of points) {
    const group = groups.get(pointId);
    if (group === undefined) groups.set(pointId, [index]);
    else group.push(index);
    index += 1;
  }
  return [...groups.values()];
}

/**
 * Points at one place each: within a distance of the first of their group.
 * Problems: check-place-conflict for two ids at one place, and for one id at two places.
 */
export function groupByPlace(
  points: RecordList<PlacedPoint>,
  distanceM: number,
  source: string,
): Outcome<readonly PointGroup[]> {
  const cell = Math.max(distanceM, 1e-6);
  const cells = new Map<string, Gathered[]>();
  const groups: Gathered[] = [];
  let index = -1;
  for (const point of points) {
    index += 1;
    const [x, y] = planeOf(point);
    const column = Math.floor(x / cell);
    const row = Math.floor(y / cell);
    let found: Gathered | null = null;
    for (let i = -1; i <= 1 && found === null; i += 1) {
      for (let j = -1; j <= 1 && found === null; j += 1) {
        found =
          (cells.get(`${String(column + i)}:${String(row + j)}`) ?? []).find(
            (group) => Math.hypot(group.x - x, group.y - y) <= distanceM,
          ) ?? null;
      }
    }
    if (found !== null) {
      found.places.push(index);
      continue;
    }
    const group = { x, y, places: [index] };
    groups.push(group);
    const key = `${String(column)}:${String(row)}`;
    cells.set(key, [...(cells.get(key) ?? []), group]);
  }
  const gathered = groups.map(({ places }) => places);
  const problems = conflicts(points, gathered, source);
  return problems.length > 0 ? failureOf(problems) : success(gathered);
}

/** A group while it is gathered: where its first point stands in the plane, and the places of all. */
interface Gathered {
  readonly x: number;
  readonly y: number;
  readonly places: number[];
}

function conflicts(points: RecordList<PlacedPoint>, groups: readonly PointGroup[], source: string): readonly Problem[] {
  const problems: Problem[] = [];
  const placeOf = new Map<string, number>();
  for (const [index, group] of groups.entries()) {
    const first = recordAt(points, group[0] ?? -1).row.pointId;
    for (const place of group) {
      const { row } = recordAt(points, place);
      const where = { source, line: row.place.line };
      if (row.pointId !== first)
        problems.push(
          errorProblem('check-place-conflict', {
            message: `${row.pointId} stands where ${first} does`,
            where,
            received: row.pointId,
            hint: 'one mark has one name; mend the one that is wrong',
          }),
        );
      const known = placeOf.get(row.pointId);
      if (known !== undefined && known !== index)
        problems.push(
          errorProblem('check-place-conflict', {
            message: `${row.pointId} stands at two places farther apart than the distance stated`,
            where,
            received: row.pointId,
            hint: 'mend the name, give a larger --same-place, or match by id',
          }),
        );
      placeOf.set(row.pointId, index);
    }
  }
  return problems;
}

/** Plane coordinates good enough to find neighbours: the grid, else degrees as metres. */
function planeOf(point: PlacedPoint): readonly [number, number] {
  if (point.firstM !== null && point.secondM !== null) return [point.firstM, point.secondM];
  // A place that is not known has no neighbours nearer than the others of its kind.
  const latitudeDeg = point.latitudeDeg ?? 0;
  // A place that is not known has no neighbours nearer than the others of its kind.
  return [(point.longitudeDeg ?? 0) * 111_320 * Math.cos((latitudeDeg * Math.PI) / 180), latitudeDeg * 110_950];
}
