import { failureOf, success } from '../records/outcome.js';
import type { Outcome } from '../records/outcome.js';
import { errorProblem } from '../records/problem.js';
import type { Problem } from '../records/problem.js';
import type { PlacedPoint } from './check-tolerances-setup.js';

/** Points of one id each, in the order of their first row. */
export function groupById(points: readonly PlacedPoint[]): readonly (readonly PlacedPoint[])[] {
  const groups = new Map<string, PlacedPoint[]>();
  for (const point of points) {
    const group = groups.get(point.row.pointId);
    if (group === undefined) groups.set(point.row.pointId, [point]);
    else group.push(point);
  }
  return [...groups.values()];
}

/**
 * Points at one place each: within a distance of the first of their group.
 * Problems: check-place-conflict for two ids at one place, and for one id at two places.
 */
export function groupByPlace(points: readonly PlacedPoint[], distanceM: number, source: string): Outcome<readonly (readonly PlacedPoint[])[]> {
  const cell = Math.max(distanceM, 1e-6);
  const cells = new Map<string, PlacedPoint[][]>();
  const groups: PlacedPoint[][] = [];
  for (const point of points) {
    const [x, y] = planeOf(point);
    const column = Math.floor(x / cell);
    const row = Math.floor(y / cell);
    let found: PlacedPoint[] | null = null;
    for (let i = -1; i <= 1 && found === null; i += 1) {
      for (let j = -1; j <= 1 && found === null; j += 1) {
        found = (cells.get(`${String(column + i)}:${String(row + j)}`) ?? []).find((group) => apart(group[0], point) <= distanceM) ?? null;
      }
    }
    if (found !== null) {
      found.push(point);
      continue;
    }
    const group = [point];
    groups.push(group);
    const key = `${String(column)}:${String(row)}`;
    cells.set(key, [...(cells.get(key) ?? []), group]);
  }
  const problems = conflicts(groups, source);
  return problems.length > 0 ? failureOf(problems) : success(groups);
}

function conflicts(groups: readonly (readonly PlacedPoint[])[], source: string): readonly Problem[] {
  const problems: Problem[] = [];
  const placeOf = new Map<string, number>();
  groups.forEach((group, index) => {
    const first = group[0]?.row.pointId ?? '';
    for (const { row } of group) {
      const where = { source, line: row.place.line };
      if (row.pointId !== first) problems.push(errorProblem('check-place-conflict', { message: `${row.pointId} stands where ${first} does`, where, received: row.pointId, hint: 'one mark has one name; mend the one that is wrong' }));
      const known = placeOf.get(row.pointId);
      if (known !== undefined && known !== index) problems.push(errorProblem('check-place-conflict', { message: `${row.pointId} stands at two places farther apart than the distance stated`, where, received: row.pointId, hint: 'mend the name, give a larger --same-place, or match by id' }));
      placeOf.set(row.pointId, index);
    }
  });
  return problems;
}

/** Plane coordinates good enough to find neighbours: the grid, else degrees as metres. */
function planeOf(point: PlacedPoint): readonly [number, number] {
  if (point.firstM !== null && point.secondM !== null) return [point.firstM, point.secondM];
  const latitudeDeg = point.latitudeDeg ?? 0;
  return [(point.longitudeDeg ?? 0) * 111_320 * Math.cos((latitudeDeg * Math.PI) / 180), latitudeDeg * 110_950];
}

function apart(a: PlacedPoint | undefined, b: PlacedPoint): number {
  if (a === undefined) return Infinity;
  const [x, y] = planeOf(a);
  const [u, v] = planeOf(b);
  return Math.hypot(x - u, y - v);
}
