import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Geodesic } from '../../ellipsoid/geodesic.js';
import { normaliseLongitudeDeg } from '../../numeric/angle-units.js';
import type { PlanPlace } from '../plan-point.js';

/** A geodesic circle as closed outer rings ready for RFC 7946: one, or two where it is cut at the 180th meridian. */
export interface CoverageRing {
  /** Each ring counter-clockwise, its first vertex repeated at its end, longitudes −180…180. */
  readonly rings: readonly (readonly PlanPlace[])[];
  /** The pole the circle contains; its ring then runs along the 180th meridian to the pole and back. */
  readonly containsPole: 'north' | 'south' | null;
}

/** Larger circles are refused: no base serves so far. */
export const LARGEST_RING_RADIUS_M = 4_000_000;

/** A vertex whose longitude may run on beyond ±180, and the azimuth it was drawn at. */
interface RingVertex extends PlanPlace {
  readonly azimuthDeg: number;
}

/**
 * The circle of places at one geodesic distance from a base.
 *
 * Given: a geodesic calculator; the base, degrees; radius, metres, > 0, at most 4000 km; how many
 * vertices, at least 8. Returned: see `CoverageRing`. Every vertex lies on the circle, also those
 * added where it crosses the 180th meridian; only the two corners at a contained pole do not.
 * Rings run counter-clockwise (the right-hand rule) and are cut at the 180th meridian.
 * Problems: a radius or count out of range (value-out-of-range).
 * Note: a circle within 1 mm of a pole is drawn as not containing it, with a radius 1 mm smaller.
 * Reference: RFC-7946, sections 3.1.6 and 3.1.9; KARNEY-2013.
 *
 * @example
 * // GeodSolve: 40 km north of 17.2° S, 179.9° E. The circle is cut at the 180th meridian.
 * const { rings } = coverageRing(createGeodesic(WGS84), { latitudeDeg: -17.2, longitudeDeg: 179.9 }, 40e3).value;
 * rings.length; // 2
 * Math.max(...rings.flat().map(({ latitudeDeg }) => latitudeDeg)); // -16.83856337
 */
export function coverageRing(geodesic: Geodesic, base: PlanPlace, radiusM: number, vertexCount = 180): Outcome<CoverageRing> {
  if (!(radiusM > 0 && radiusM <= LARGEST_RING_RADIUS_M) || !Number.isInteger(vertexCount) || vertexCount < 8) {
    return failure(
      errorProblem('value-out-of-range', {
        message: `a ring of ${String(radiusM)} m with ${String(vertexCount)} vertices cannot be drawn`,
        expected: `a radius above 0 and at most ${String(LARGEST_RING_RADIUS_M)} m, and 8 vertices or more`,
      }),
    );
  }
  const pole = base.latitudeDeg >= 0 ? 90 : -90;
  const toPoleM = geodesic.inverse(base.latitudeDeg, base.longitudeDeg, pole, base.longitudeDeg).distanceM;
  const drawnM = Math.abs(radiusM - toPoleM) < 1e-3 ? toPoleM - 1e-3 : radiusM;
  const centre: PlanPlace = { latitudeDeg: base.latitudeDeg, longitudeDeg: normaliseLongitudeDeg(base.longitudeDeg) };
  const around = vertexMaker(geodesic, centre, drawnM);
  const vertices: RingVertex[] = [];
  // Falling azimuth is counter-clockwise on the ground and on a map.
  for (let i = 0; i < vertexCount; i += 1) vertices.push(around(360 - (360 * i) / vertexCount));
  if (drawnM > toPoleM) return success(polarRing(vertices, around, pole));
  return success({ rings: cutRings(vertices, around), containsPole: null });
}

/** A vertex from its azimuth; its longitude is within 180° of the centre's, and not brought to ±180. */
function vertexMaker(geodesic: Geodesic, centre: PlanPlace, radiusM: number): (azimuthDeg: number) => RingVertex {
  return (azimuthDeg) => {
    const at = geodesic.direct(centre.latitudeDeg, centre.longitudeDeg, azimuthDeg, radiusM);
    const offsetDeg = normaliseLongitudeDeg(at.longitudeDeg - centre.longitudeDeg);
    return { latitudeDeg: at.latitudeDeg, longitudeDeg: centre.longitudeDeg + offsetDeg, azimuthDeg };
  };
}

/** Cuts a ring that contains no pole at ±180. */
function cutRings(vertices: readonly RingVertex[], around: (azimuthDeg: number) => RingVertex): readonly (readonly PlanPlace[])[] {
  const cutDeg = vertices.some(({ longitudeDeg }) => longitudeDeg > 180) ? 180 : vertices.some(({ longitudeDeg }) => longitudeDeg < -180) ? -180 : null;
  if (cutDeg === null) return [close(vertices.map(plain))];
  const below: PlanPlace[] = [];
  const above: PlanPlace[] = [];
  vertices.forEach((vertex, i) => {
    if (vertex.longitudeDeg <= cutDeg) below.push(vertex);
    if (vertex.longitudeDeg >= cutDeg) above.push(vertex);
    const next = vertices[(i + 1) % vertices.length];
    if (next === undefined || !((vertex.longitudeDeg < cutDeg && next.longitudeDeg > cutDeg) || (vertex.longitudeDeg > cutDeg && next.longitudeDeg < cutDeg))) return;
    const nextAzimuthDeg = i + 1 === vertices.length ? 0 : next.azimuthDeg;
    const crossing = { ...crossingAt(around, vertex.azimuthDeg, nextAzimuthDeg, cutDeg), longitudeDeg: cutDeg };
    below.push(crossing);
    above.push(crossing);
  });
  // The part beyond +180 is drawn from −180 on, and the part beyond −180 from +180 down.
  return [below, above]
    .filter((part) => part.length >= 3)
    .map((part) => {
      const beyond = part.some(({ longitudeDeg }) => Math.abs(longitudeDeg) > 180);
      const turnDeg = beyond ? (cutDeg > 0 ? -360 : 360) : 0;
      return close(part.map(({ latitudeDeg, longitudeDeg }) => ({ latitudeDeg, longitudeDeg: longitudeDeg + turnDeg })));
    });
}

/** A ring that contains a pole: from −180 to 180 (or back), closed along the 180th meridian and the pole. */
function polarRing(vertices: readonly RingVertex[], around: (azimuthDeg: number) => RingVertex, poleDeg: number): CoverageRing {
  const turned = vertices.map((vertex) => ({ ...vertex, longitudeDeg: normaliseLongitudeDeg(vertex.longitudeDeg) }));
  const north = poleDeg > 0;
  // Around the north pole, counter-clockwise is eastward; around the south pole, westward.
  const startDeg = north ? -180 : 180;
  const at = turned.findIndex((vertex, i) => {
    const before = turned[(i + turned.length - 1) % turned.length];
    return before !== undefined && (north ? vertex.longitudeDeg < before.longitudeDeg : vertex.longitudeDeg > before.longitudeDeg);
  });
  const start = Math.max(0, at);
  const ordered = [...turned.slice(start), ...turned.slice(0, start)];
  const first = ordered[0] as RingVertex;
  const last = ordered.at(-1) as RingVertex;
  const firstAzimuthDeg = start === 0 ? 0 : first.azimuthDeg;
  const crossing = polarCrossing(around, last.azimuthDeg, firstAzimuthDeg, north);
  const body = ordered.filter(({ longitudeDeg }) => Math.abs(longitudeDeg) < 180).map(plain);
  const ring: PlanPlace[] = [
    { latitudeDeg: crossing.latitudeDeg, longitudeDeg: startDeg },
    ...body,
    { latitudeDeg: crossing.latitudeDeg, longitudeDeg: -startDeg },
    { latitudeDeg: poleDeg, longitudeDeg: -startDeg },
    { latitudeDeg: poleDeg, longitudeDeg: startDeg },
  ];
  return { rings: [close(ring)], containsPole: north ? 'north' : 'south' };
}

/** Where the circle meets a longitude between two azimuths, by bisection. */
function crossingAt(around: (azimuthDeg: number) => RingVertex, fromDeg: number, toDeg: number, longitudeDeg: number): PlanPlace {
  const rising = around(fromDeg).longitudeDeg < longitudeDeg;
  let [low, high] = [fromDeg, toDeg];
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    if (around(middle).longitudeDeg < longitudeDeg === rising) low = middle;
    else high = middle;
  }
  return around(low);
}

/** Where a circle around a pole meets the 180th meridian, by bisection on the sign of the longitude. */
function polarCrossing(around: (azimuthDeg: number) => RingVertex, fromDeg: number, toDeg: number, eastward: boolean): PlanPlace {
  let [low, high] = [fromDeg, toDeg];
  for (let i = 0; i < 60; i += 1) {
    const middle = (low + high) / 2;
    const positive = normaliseLongitudeDeg(around(middle).longitudeDeg) > 0;
    if (positive === eastward) low = middle;
    else high = middle;
  }
  return around(low);
}

function plain({ latitudeDeg, longitudeDeg }: PlanPlace): PlanPlace {
  return { latitudeDeg, longitudeDeg };
}

function close(ring: readonly PlanPlace[]): readonly PlanPlace[] {
  return [...ring, ring[0] as PlanPlace];
}
