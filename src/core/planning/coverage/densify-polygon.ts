import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Geodesic } from '../../ellipsoid/geodesic.js';
import { DEGREES_PER_RADIAN, RADIANS_PER_DEGREE, normaliseAzimuthDeg, normaliseLongitudeDeg } from '../../numeric/angle-units.js';
import { largestOf } from '../../numeric/extremes.js';
import { badSpacing, densifyLine, MOST_DENSIFIED_POINTS, tooMany } from './densify-line.js';
import type { DensifiedPoint, PlanVertex } from './densify-line.js';
import { meanDirection } from '../siting/mean-direction.js';
import { WIDEST_LAYOUT_RADIUS_M } from '../siting/one-centre.js';
import type { PlanPlace } from '../plan-point.js';

/** A ring in the plane around the middle of the area, metres. */
interface PlaneRing {
  readonly x: Float64Array;
  readonly y: Float64Array;
}

/**
 * Points on the boundary of an area and inside it, so that all of it is served.
 *
 * Given: rings, degrees: the outer one and any holes, each closed (first vertex repeated) or not;
 * spacing, metres, > 0. Returned: each ring densified along its geodesics, then a square grid of the
 * spacing inside, laid out in the azimuthal equidistant plane about the mean direction of the outer
 * ring's points (neither the 180th meridian nor a pole matters). Distances in that plane are never
 * shorter than on the ground, so neighbours are no farther apart than the spacing. Inside means an odd number
 * of boundary crossings, so holes are left out.
 * Problems: as `densifyLine`; a ring with fewer than three different vertices or without area
 * (geojson-structure); an area that reaches farther than 4000 km (value-out-of-range).
 */
export function densifyPolygon(geodesic: Geodesic, rings: readonly (readonly PlanVertex[])[], spacingM: number): Outcome<readonly DensifiedPoint[]> {
  const badSpacingProblem = badSpacing(spacingM);
  if (badSpacingProblem !== null) return badSpacingProblem;
  const boundaries: (readonly DensifiedPoint[])[] = [];
  const points: DensifiedPoint[] = [];
  for (const ring of rings) {
    const boundary = densifyRing(geodesic, ring, spacingM);
    if (!boundary.ok) return boundary;
    if (points.length + boundary.value.length > MOST_DENSIFIED_POINTS) return tooMany(spacingM);
    boundaries.push(boundary.value);
    for (const point of boundary.value) points.push(point);
  }
  const [outer] = boundaries;
  if (outer === undefined) return empty('an area without positions');
  const middle = meanDirection(outer);
  const plane: PlaneRing[] = [];
  for (const boundary of boundaries) {
    const flat = toPlane(geodesic, middle, boundary);
    if (largestOf(boundsOf(flat).map(Math.abs)) > WIDEST_LAYOUT_RADIUS_M) {
      return failure(errorProblem('value-out-of-range', { message: 'the area reaches more than 4000 km from its middle', hint: 'split the area' }));
    }
    if (Math.abs(signedArea(flat)) < 1e-6) return empty('a ring without area');
    plane.push(flat);
  }
  return addInterior(geodesic, middle, plane, spacingM, points);
}

/** Adds the square grid of points inside the rings, laid out about the middle, to those of the boundary. */
function addInterior(geodesic: Geodesic, middle: PlanPlace, plane: readonly PlaneRing[], spacingM: number, points: DensifiedPoint[]): Outcome<readonly DensifiedPoint[]> {
  const [west, south, east, north] = boundsOf(plane[0] as PlaneRing);
  const columns = Math.floor((east - west) / spacingM) + 1;
  const rows = Math.floor((north - south) / spacingM) + 1;
  if (columns * rows > 4 * MOST_DENSIFIED_POINTS) return tooMany(spacingM);
  // The grid is centred in the bounds, so that what is left over is shared by both sides.
  const x0 = (west + east - (columns - 1) * spacingM) / 2;
  const y0 = (south + north - (rows - 1) * spacingM) / 2;
  for (let row = 0; row < rows; row += 1) {
    const y = y0 + row * spacingM;
    const crossings = crossingsAt(plane, y);
    for (let column = 0; column < columns; column += 1) {
      const x = x0 + column * spacingM;
      if (countBelow(crossings, x) % 2 === 0) continue;
      if (points.length >= MOST_DENSIFIED_POINTS) return tooMany(spacingM);
      const at = geodesic.direct(middle.latitudeDeg, middle.longitudeDeg, normaliseAzimuthDeg(Math.atan2(x, y) * DEGREES_PER_RADIAN), Math.hypot(x, y));
      points.push({
        latitudeDeg: at.latitudeDeg,
        longitudeDeg: normaliseLongitudeDeg(at.longitudeDeg),
        ellipsoidalHeightM: null,
        part: 'interior',
        chainageM: null,
      });
    }
  }
  return success(points);
}

/** A ring as a closed line, densified; the repeated last vertex is dropped. */
function densifyRing(geodesic: Geodesic, ring: readonly PlanVertex[], spacingM: number): Outcome<readonly DensifiedPoint[]> {
  const first = ring[0];
  if (first === undefined) return empty('an area without positions');
  const line = densifyLine(geodesic, [...ring, first], spacingM);
  if (!line.ok) return line;
  const points = line.value.slice(0, -1);
  const vertices = new Set(points.filter(({ part }) => part === 'vertex').map((p) => `${String(p.latitudeDeg)} ${String(p.longitudeDeg)}`));
  return vertices.size < 3 ? empty(`a ring of ${String(vertices.size)} different positions`) : success(points);
}

function empty(what: string): Outcome<readonly DensifiedPoint[]> {
  return failure(
    errorProblem('geojson-structure', { message: `${what} is not an area`, expected: 'three different positions or more that enclose an area', hint: 'draw the area again, or leave it out' }),
  );
}

function toPlane(geodesic: Geodesic, middle: PlanPlace, places: readonly PlanPlace[]): PlaneRing {
  const x = new Float64Array(places.length);
  const y = new Float64Array(places.length);
  places.forEach((place, i) => {
    const line = geodesic.inverse(middle.latitudeDeg, middle.longitudeDeg, place.latitudeDeg, place.longitudeDeg);
    // There is no direction over no distance: any will do.
    const alpha = (line.azimuthDeg ?? 0) * RADIANS_PER_DEGREE;
    x[i] = line.distanceM * Math.sin(alpha);
    y[i] = line.distanceM * Math.cos(alpha);
  });
  return { x, y };
}

function boundsOf({ x, y }: PlaneRing): readonly [number, number, number, number] {
  let [west, south, east, north] = [Infinity, Infinity, -Infinity, -Infinity];
  for (let i = 0; i < x.length; i += 1) {
    west = Math.min(west, x[i] as number);
    east = Math.max(east, x[i] as number);
    south = Math.min(south, y[i] as number);
    north = Math.max(north, y[i] as number);
  }
  return [west, south, east, north];
}

function signedArea({ x, y }: PlaneRing): number {
  let twice = 0;
  for (let i = 0, j = x.length - 1; i < x.length; j = i, i += 1) {
    twice += (x[j] as number) * (y[i] as number) - (x[i] as number) * (y[j] as number);
  }
  return twice / 2;
}

/** Where the boundary crosses the horizontal line at y, ascending. */
function crossingsAt(rings: readonly PlaneRing[], y: number): readonly number[] {
  const crossings: number[] = [];
  for (const ring of rings) {
    for (let i = 0, j = ring.x.length - 1; i < ring.x.length; j = i, i += 1) {
      const ya = ring.y[j] as number;
      const yb = ring.y[i] as number;
      if (ya > y === yb > y) continue;
      const xa = ring.x[j] as number;
      const xb = ring.x[i] as number;
      crossings.push(xa + ((y - ya) / (yb - ya)) * (xb - xa));
    }
  }
  return crossings.sort((a, b) => a - b);
}

function countBelow(ascending: readonly number[], x: number): number {
  let low = 0;
  let high = ascending.length;
  while (low < high) {
    const middle = (low + high) >>> 1;
    if ((ascending[middle] as number) < x) low = middle + 1;
    else high = middle;
  }
  return low;
}
