import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import { gaussRadiusM } from '../../core/ellipsoid/radii.js';
import { RADIANS_PER_DEGREE } from '../../core/numeric/angle-units.js';
import { failure, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { EllipsoidArea } from '../../records/points/point-join.js';
import { entryAt } from '../../records/present.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import { crossingSides } from './crossing-sides.js';
import type { PlaneCorner } from './crossing-sides.js';

/** A corner by its place. */
export interface PlacedCorner {
  readonly pointId: string;
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number | null;
}

/** Farther than this from the first corner, metres, a figure is no longer looked at in a plane: an eighth of the way round. */
const MOST_M = 5_000_000;

/**
 * Area of a closed figure inside geodesic sides, without a map, and at the mean height of its corners.
 *
 * Given: three corners or more, in order; the last joins the first. Returned: square metres and metres.
 * Problems: value-out-of-range for fewer corners, and for one more than 5,000 km from the first; method-undetermined where sides
 * cross or touch.
 * Note: that sides cross is seen in the gnomonic plane about the first corner, where geodesics are straight but for the
 * flattening of the Earth. Reference: KARNEY-2013; docs/methods/areas.md.
 */
export function ellipsoidArea(corners: readonly PlacedCorner[], geodesic: Geodesic): Outcome<EllipsoidArea> {
  const plane = gnomonic(corners, geodesic);
  if (!plane.ok) return plane;
  const refused = figureProblem(corners, plane.value);
  return refused === null ? success(areaOnEllipsoid(corners, geodesic)) : failure(refused);
}

function gnomonic(corners: readonly PlacedCorner[], geodesic: Geodesic): Outcome<readonly PlaneCorner[]> {
  const [first] = corners;
  const plane: PlaneCorner[] = [];
  for (const { pointId, latitudeDeg, longitudeDeg } of corners) {
    // The first corner is there: it is one of those looked at.
    const from = first ?? { latitudeDeg, longitudeDeg };
    const line = geodesic.inverse(from.latitudeDeg, from.longitudeDeg, latitudeDeg, longitudeDeg);
    if (!(line.distanceM <= MOST_M))
      return failure(
        errorProblem('value-out-of-range', {
          message: `corner ${pointId} is ${String(Math.round(line.distanceM / 1000))} km from the first`,
          expected: `at most ${String(MOST_M / 1000)} km`,
        }),
      );
    const radiusM = gaussRadiusM(geodesic.ellipsoid, from.latitudeDeg);
    const distance = radiusM * Math.tan(line.distanceM / radiusM);
    // Two corners at one place have no azimuth, and no distance that it would matter for.
    const azimuth = (line.azimuthDeg ?? 0) * RADIANS_PER_DEGREE;
    plane.push({ gridFirst: distance * Math.sin(azimuth), gridSecond: distance * Math.cos(azimuth) });
  }
  return success(plane);
}

/** Why a figure has no single area; null where it has. `plane`: its corners in a plane, where sides are seen to cross. */
export function figureProblem(
  corners: readonly Pick<PlacedCorner, 'pointId'>[],
  plane: readonly PlaneCorner[],
): Problem | null {
  const pointIds = corners.map((corner) => corner.pointId);
  if (corners.length < 3) {
    return errorProblem('value-out-of-range', {
      message: `a figure of ${corners.length} corners (${pointIds.join(', ')}) has no area`,
      expected: '3 corners or more',
    });
  }
  const crossing = crossingSides(plane);
  if (crossing === null) return null;
  const [i, j] = crossing.map((at) => `${entryAt(pointIds, at)}–${entryAt(pointIds, (at + 1) % corners.length)}`);
  return errorProblem('method-undetermined', {
    message: `sides ${String(i)} and ${String(j)} cross or touch, so the figure has no single area`,
    hint: 'list the corners in the order they are met along the boundary',
  });
}

/** Ground area = ellipsoidal area · ((R + h) / R)² with the mean radius at the middle latitude; without a height of every corner there is none. */
export function areaOnEllipsoid(corners: readonly PlacedCorner[], geodesic: Geodesic): EllipsoidArea {
  const polygon = geodesic.polygonArea(corners);
  const heights = corners.map((corner) => corner.ellipsoidalHeightM);
  const known = heights.filter((height) => height !== null);
  const meanHeightM =
    known.length === heights.length ? known.reduce((sum, height) => sum + height, 0) / known.length : null;
  const middleDeg = corners.reduce((sum, corner) => sum + corner.latitudeDeg, 0) / corners.length;
  const radiusM = gaussRadiusM(geodesic.ellipsoid, middleDeg);
  return {
    pointIds: corners.map((corner) => corner.pointId),
    ellipsoidalAreaM2: polygon.areaM2,
    groundAreaM2: meanHeightM === null ? null : polygon.areaM2 * ((radiusM + meanHeightM) / radiusM) ** 2,
    meanHeightM,
    ellipsoidalPerimeterM: polygon.perimeterM,
    isClockwise: !polygon.counterClockwise,
  };
}
