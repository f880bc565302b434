import { geocentricToGeodetic, geodeticToGeocentric } from '../../../core/ellipsoid/geocentric.js';
import type { Ellipsoid } from '../../../core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../core/ellipsoid/geodesic.js';
import { localFrameAt, localToGeocentric } from '../../../core/ellipsoid/local-frame.js';
import { RADIANS_PER_DEGREE } from '../../../core/numeric/angle-units.js';
import { entryAt } from '../../../records/present.js';
import type { GeodeticPoint } from '../../../records/points/point.js';
import type { PositionalSummary } from '../../../records/points/reduced-point.js';
import type { NetworkObservationResult, NetworkPair, NetworkPoint } from '../../../records/reports/network-report.js';
import { baselineParts } from '../../plan/targets/coverage-shapes.js';
import type { NetworkResults } from '../network-results.js';

interface MapPlace {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

/** Something of a network on a map: an observation, or a 95 % ellipse of a station or between two. */
export type NetworkShape =
  | {
      readonly kind: 'observation';
      readonly observation: NetworkObservationResult;
      readonly geometry: { readonly kind: 'lines'; readonly lines: readonly (readonly MapPlace[])[] };
    }
  | ({ readonly geometry: { readonly kind: 'areas'; readonly rings: readonly (readonly MapPlace[])[] } } & (
      | { readonly kind: 'ellipse'; readonly point: NetworkPoint; readonly summary: PositionalSummary }
      | { readonly kind: 'relative-ellipse'; readonly pair: NetworkPair }
    ));

/** Corners of an ellipse: the ring is inside it by a thousandth of an axis. */
const CORNERS = 72;

/**
 * The observations of a network as lines between adjusted places, then the 95 % ellipses of its stations about them, then those of the
 * pairs about their middles.
 *
 * Given: the results; the pairs asked for; how many times larger than the ground ellipses are drawn. Returned: shapes ready for RFC
 * 7946: geodesics in parts of 10 km at most, rings counter-clockwise, both cut at the 180th meridian (sections 3.1.6 and 3.1.9).
 */
export function* networkShapes(
  { points, observations, systems, adjusted }: NetworkResults,
  pairs: readonly NetworkPair[],
  scale: number,
): Generator<NetworkShape> {
  const { ellipsoid } = systems;
  const geodesic = createGeodesic(ellipsoid);
  const { indexOf } = adjusted.final.solved.list;
  const placeOf = (id: string): GeodeticPoint | null => {
    const index = indexOf.get(id);
    return index === undefined ? null : entryAt(points, index).geodetic;
  };
  for (const observation of observations) {
    const [from, to] = [placeOf(observation.fromId), placeOf(observation.toId)];
    const lines = from === null || to === null ? [] : baselineParts(geodesic, from, to);
    yield { kind: 'observation', observation, geometry: { kind: 'lines', lines } };
  }
  for (const point of points) {
    const { geodetic, summary } = point;
    if (geodetic === null || summary === null) continue;
    const rings = ellipseRings(geodetic, summary, scale, ellipsoid);
    yield { kind: 'ellipse', point, summary, geometry: { kind: 'areas', rings } };
  }
  for (const pair of pairs) {
    const [from, to] = [placeOf(pair.fromId), placeOf(pair.toId)];
    if (from === null || to === null) continue;
    const rings = ellipseRings(middleOf(from, to, ellipsoid), pair.summary, scale, ellipsoid);
    yield { kind: 'relative-ellipse', pair, geometry: { kind: 'areas', rings } };
  }
}

function middleOf(from: GeodeticPoint, to: GeodeticPoint, ellipsoid: Ellipsoid): GeodeticPoint {
  const [a, b] = [geodeticToGeocentric(from, ellipsoid), geodeticToGeocentric(to, ellipsoid)];
  return geocentricToGeodetic({ xM: (a.xM + b.xM) / 2, yM: (a.yM + b.yM) / 2, zM: (a.zM + b.zM) / 2 }, ellipsoid);
}

/** An ellipse about a place, counter-clockwise; an axis that rounds to nothing is drawn as nothing. */
function ellipseRings(
  centre: GeodeticPoint,
  { ellipseMajor95M, ellipseMinor95M, ellipseAzimuthDeg }: PositionalSummary,
  scale: number,
  ellipsoid: Ellipsoid,
): readonly (readonly MapPlace[])[] {
  if (!(ellipseMajor95M > 0)) return [];
  const frame = localFrameAt(centre.latitudeDeg, centre.longitudeDeg);
  const from = geodeticToGeocentric(centre, ellipsoid);
  const azimuth = ellipseAzimuthDeg * RADIANS_PER_DEGREE;
  const ring = Array.from({ length: CORNERS + 1 }, (_, corner) => {
    // The last corner is the first.
    const angle = (2 * Math.PI * (corner % CORNERS)) / CORNERS;
    const along = scale * ellipseMajor95M * Math.cos(angle);
    const left = scale * ellipseMinor95M * Math.sin(angle);
    const by = localToGeocentric(frame, {
      eastM: along * Math.sin(azimuth) - left * Math.cos(azimuth),
      northM: along * Math.cos(azimuth) + left * Math.sin(azimuth),
      upM: 0,
    });
    const at = geocentricToGeodetic({ xM: from.xM + by.xM, yM: from.yM + by.yM, zM: from.zM + by.zM }, ellipsoid);
    return { latitudeDeg: at.latitudeDeg, longitudeDeg: near(at.longitudeDeg, centre.longitudeDeg) };
  });
  const sideDeg = ring.some(({ longitudeDeg }) => longitudeDeg > 180)
    ? 180
    : ring.some(({ longitudeDeg }) => longitudeDeg < -180)
      ? -180
      : null;
  if (sideDeg === null) return [ring];
  const turned = (part: readonly MapPlace[]): readonly MapPlace[] =>
    part.some(({ longitudeDeg }) => Math.abs(longitudeDeg) > 180)
      ? part.map((place) => ({ ...place, longitudeDeg: place.longitudeDeg - 2 * sideDeg }))
      : part;
  return [turned(cut(ring, sideDeg, -1)), turned(cut(ring, sideDeg, 1))].filter((part) => part.length > 3);
}

/** The longitude within half a turn of another, past ±180 where need be. */
function near(longitudeDeg: number, otherDeg: number): number {
  return longitudeDeg - 360 * Math.round((longitudeDeg - otherDeg) / 360);
}

/** What of a closed ring lies on one side of a meridian, closed along it. */
function cut(ring: readonly MapPlace[], meridianDeg: number, side: 1 | -1): readonly MapPlace[] {
  const kept: MapPlace[] = [];
  const isIn = ({ longitudeDeg }: MapPlace): boolean => side * (longitudeDeg - meridianDeg) >= 0;
  for (const [index, place] of ring.slice(0, -1).entries()) {
    const next = entryAt(ring, index + 1);
    if (isIn(place)) kept.push(place);
    if (isIn(place) === isIn(next)) continue;
    const share = (meridianDeg - place.longitudeDeg) / (next.longitudeDeg - place.longitudeDeg);
    kept.push({
      latitudeDeg: place.latitudeDeg + share * (next.latitudeDeg - place.latitudeDeg),
      longitudeDeg: meridianDeg,
    });
  }
  const [first] = kept;
  return first === undefined ? [] : [...kept, first];
}
