import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { FigureArea, Station } from '../../records/points/point-join.js';
import { areaOnEllipsoid, figureProblem } from './ellipsoid-area.js';
import type { JoinSetup } from './join-points.js';

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
  const refused = figureProblem(corners, corners);
  if (refused !== null) return failure(refused);
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
  return success({
    ...areaOnEllipsoid(corners, geodesic),
    gridAreaM2: (Math.abs(twice) / 2) * metres * metres,
    gridPerimeterM,
  });
}
