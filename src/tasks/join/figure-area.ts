import { gaussRadiusM } from '../../core/ellipsoid/radii.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { FigureArea, Station } from '../../records/points/point-join.js';
import { errorProblem } from '../../records/problem.js';
import type { JoinSetup } from './join-points.js';
import { entryAt } from '../../records/present.js';

/**
 * Area of a closed figure: on the grid, inside geodesic sides on the ellipsoid, and at the mean height
 * of its corners.
 *
 * Given: three corners or more, in order; the last joins the first. Returned: square metres and metres.
 * Problems: value-out-of-range for fewer corners; method-undetermined where sides cross or touch, as
 * such a figure has no single area. Ground area = ellipsoidal area · ((R + h) / R)² with the mean radius
 * at the middle latitude. Reference: KARNEY-2013 for the geodesic polygon; docs/methods/areas.md.
 *
 * @example
 * // A square of 100 m on the grid.
 * const grid = loadGridSystem('EPSG:28355').value;
 * const corner = ([first, second], at) => {
 *   const place = { latitudeDeg: 0, longitudeDeg: 0 };
 *   grid.inverse(first, second, place);
 *   return { ...place, pointId: String(at), gridFirst: first, gridSecond: second, ellipsoidalHeightM: null };
 * };
 * const square = [[3e5, 58e5], [3e5 + 100, 58e5], [3e5 + 100, 58e5 + 100], [3e5, 58e5 + 100]].map(corner);
 * const area = figureArea(square, { grid, geodesic: createGeodesic(GRS80) }).value;
 * [area.gridAreaM2, area.gridPerimeterM, area.isClockwise]; // [10000.00, 400.00, false]
 */
export function figureArea(corners: readonly Station[], setup: JoinSetup): Outcome<FigureArea> {
  const pointIds = corners.map((corner) => corner.pointId);
  if (corners.length < 3) {
    return failure(
      errorProblem('value-out-of-range', {
        message: `a figure of ${corners.length} corners (${pointIds.join(', ')}) has no area`,
        expected: '3 corners or more',
      }),
    );
  }
  const crossing = crossingSides(corners);
  if (crossing !== null) {
    const [i, j] = crossing;
    const side = (index: number): string =>
      `${entryAt(pointIds, index)}–${entryAt(pointIds, (index + 1) % corners.length)}`;
    return failure(
      errorProblem('method-undetermined', {
        message: `sides ${side(i)} and ${side(j)} cross or touch, so the figure has no single area`,
        hint: 'list the corners in the order they are met along the boundary',
      }),
    );
  }
  const { grid, geodesic } = setup;
  const metres = grid.axes[0].metresPerUnit;
  const origin = corners[0]!;
  let twice = 0;
  let gridPerimeterM = 0;
  corners.forEach((corner, index) => {
    const next = corners[(index + 1) % corners.length]!;
    const [x, y] = [corner.gridFirst - origin.gridFirst, corner.gridSecond - origin.gridSecond];
    const [u, v] = [next.gridFirst - origin.gridFirst, next.gridSecond - origin.gridSecond];
    twice += x * v - u * y;
    gridPerimeterM += Math.hypot(u - x, v - y) * metres;
  });
  const polygon = geodesic.polygonArea(corners);
  const heights = corners.map((corner) => corner.ellipsoidalHeightM);
  const known = heights.filter((height) => height !== null);
  const meanHeightM =
    known.length === heights.length ? known.reduce((sum, height) => sum + height, 0) / known.length : null;
  const middleDeg = corners.reduce((sum, corner) => sum + corner.latitudeDeg, 0) / corners.length;
  const radiusM = gaussRadiusM(grid.base.ellipsoid, middleDeg);
  return success({
    pointIds,
    gridAreaM2: (Math.abs(twice) / 2) * metres * metres,
    ellipsoidalAreaM2: polygon.areaM2,
    groundAreaM2: meanHeightM === null ? null : polygon.areaM2 * ((radiusM + meanHeightM) / radiusM) ** 2,
    meanHeightM,
    gridPerimeterM,
    ellipsoidalPerimeterM: polygon.perimeterM,
    isClockwise: !polygon.counterClockwise,
  });
}

/** Indexes of two sides that have a place in common besides the corner neighbours share; null where none do. */
function crossingSides(corners: readonly Station[]): readonly [number, number] | null {
  const n = corners.length;
  const at = (index: number): Station => corners[index % n]!;
  for (let i = 0; i < n; i += 1) {
    for (let j = i + 1; j < n; j += 1) {
      const neighbours = j === i + 1 || (i === 0 && j === n - 1);
      if (neighbours ? foldsBack(i, j, at, n) : meet(at(i), at(i + 1), at(j), at(j + 1))) return [i, j];
    }
  }
  return null;
}

/** Neighbouring sides that lie on each other, or a side without length. */
function foldsBack(i: number, j: number, at: (index: number) => Station, n: number): boolean {
  const [start, shared, end] = i === 0 && j === n - 1 && n > 2 ? [at(1), at(0), at(j)] : [at(i), at(j), at(j + 1)];
  const [ax, ay] = [start.gridFirst - shared.gridFirst, start.gridSecond - shared.gridSecond];
  const [bx, by] = [end.gridFirst - shared.gridFirst, end.gridSecond - shared.gridSecond];
  const cross = ax * by - ay * bx;
  const dot = ax * bx + ay * by;
  // A side without length has neither product.
  return cross === 0 && dot >= 0;
}

function meet(a: Station, b: Station, c: Station, d: Station): boolean {
  const [s1, s2, s3, s4] = [side(c, d, a), side(c, d, b), side(a, b, c), side(a, b, d)];
  if (s1 * s2 < 0 && s3 * s4 < 0) return true;
  return (
    (s1 === 0 && between(c, d, a)) ||
    (s2 === 0 && between(c, d, b)) ||
    (s3 === 0 && between(a, b, c)) ||
    (s4 === 0 && between(a, b, d))
  );
}

function side(a: Station, b: Station, c: Station): number {
  return Math.sign(
    (b.gridFirst - a.gridFirst) * (c.gridSecond - a.gridSecond) -
      (b.gridSecond - a.gridSecond) * (c.gridFirst - a.gridFirst),
  );
}

function between(a: Station, b: Station, c: Station): boolean {
  const within = (u: number, v: number, w: number): boolean => Math.min(u, v) <= w && w <= Math.max(u, v);
  return within(a.gridFirst, b.gridFirst, c.gridFirst) && within(a.gridSecond, b.gridSecond, c.gridSecond);
}
