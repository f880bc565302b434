import geographiclib from 'geographiclib-geodesic';
import { InternalError } from '../../records/internal-error.js';
import { normaliseAzimuthDeg } from '../numeric/angle-units.js';
import type { Draft } from '../../records/draft.js';
import type { Ellipsoid } from './ellipsoid.js';
import { createShortDirect } from './short-direct.js';
import type { ShortEnd } from './short-direct.js';
import { createShortDistances } from './short-distances.js';
import { createShortGeodesic } from './short-geodesic.js';
import type { ShortLine } from './short-geodesic.js';

/** Shorter lines than this have no azimuth: positions in double degrees are good to some 2 nm only, which at 0.1 mm is already seconds of arc. */
export const SHORTEST_LINE_WITH_AZIMUTH_M = 1e-4;

/** The geodesic from point 1 to point 2. */
export interface GeodesicLine {
  readonly distanceM: number;
  /** At point 1 towards point 2, 0…360 from true north; null when the points are closer than 0.1 mm. */
  readonly azimuthDeg: number | null;
  /** At point 2 towards point 1, 0…360 from true north; null when the points are closer than 0.1 mm. */
  readonly reverseAzimuthDeg: number | null;
}

/** The far end of a geodesic. */
export interface GeodesicEnd {
  readonly latitudeDeg: number;
  /** −180…180. */
  readonly longitudeDeg: number;
  /** Direction of travel at the far end (forward, not back), 0…360. */
  readonly azimuthDeg: number;
}

export interface GeodesicArea {
  /** Never negative: the area on the smaller side of the boundary. */
  readonly areaM2: number;
  readonly perimeterM: number;
  /** True when the points run anticlockwise around that area, as RFC 7946 wants of an outer ring. */
  readonly counterClockwise: boolean;
}

/** Geodesics on one ellipsoid. */
export interface Geodesic {
  readonly ellipsoid: Ellipsoid;
  /**
   * Distance and azimuths between two positions, degrees. Inverse: `direct`.
   *
   * Not unique between nearly antipodal points, and where a point is a pole: see
   * docs/methods/geodesic.md. `line`: a record to be filled.
   */
  inverse(
    latitude1Deg: number,
    longitude1Deg: number,
    latitude2Deg: number,
    longitude2Deg: number,
    line?: Draft<GeodesicLine>,
  ): GeodesicLine;
  /** Distance alone, metres: the same number as that of `inverse`. */
  distanceM(latitude1Deg: number, longitude1Deg: number, latitude2Deg: number, longitude2Deg: number): number;
  /** The same number for many positions, from one after another: what these many give to each line is worked out once. */
  distancesTo(latitudesDeg: Float64Array, longitudesDeg: Float64Array): DistancesFrom;
  /** The position at a distance (metres, may be negative) along an azimuth (degrees). Inverse: `inverse`. */
  direct(latitudeDeg: number, longitudeDeg: number, azimuthDeg: number, distanceM: number): GeodesicEnd;
  /** Area and perimeter of a polygon with geodesic sides; the last point joins the first and is not repeated. */
  polygonArea(points: readonly { readonly latitudeDeg: number; readonly longitudeDeg: number }[]): GeodesicArea;
}

/**
 * Geodesics on an ellipsoid, by a general-purpose library behind checked input; lines as short as a baseline, of which
 * every row of a survey has one, by `createShortGeodesic` and `createShortDirect`.
 *
 * Given: the ellipsoid. Returned: the four operations. Latitudes −90…90, longitudes any finite
 * number of degrees. Errors: InternalError for anything else; the caller has checked.
 * Accuracy: some nanometres for terrestrial ellipsoids. Reference: KARNEY-2013.
 *
 * @example
 * // GDA2020-TM, worked example, Flinders Peak to Buninyong
 * const geodesic = createGeodesic(GRS80);
 * geodesic.inverse(-37.951033417, 144.424867889, -37.652821139, 143.926495528).distanceM; // 54972.271
 */
export function createGeodesic(ellipsoid: Ellipsoid): Geodesic {
  const anyLine = createAnyLine(ellipsoid);
  const short = createShortGeodesic(ellipsoid);
  const shortEnd = createShortDirect(ellipsoid);
  const end: ShortEnd = { latitudeDeg: 0, longitudeDeg: 0, azimuthDeg: 0 };
  const held: ShortLine = { distanceM: 0, azimuthDeg: 0, reverseAzimuthDeg: 0 };
  return {
    ellipsoid,
    inverse(latitude1Deg, longitude1Deg, latitude2Deg, longitude2Deg, line = emptyLine()): GeodesicLine {
      check(latitude1Deg, longitude1Deg);
      check(latitude2Deg, longitude2Deg);
      if (!short(latitude1Deg, longitude1Deg, latitude2Deg, longitude2Deg, held)) {
        const { solver, ofLine } = anyLine();
        const found = solver.Inverse(latitude1Deg, longitude1Deg, latitude2Deg, longitude2Deg, ofLine);
        held.distanceM = found.s12 as number;
        held.azimuthDeg = normaliseAzimuthDeg(found.azi1 as number);
        held.reverseAzimuthDeg = normaliseAzimuthDeg((found.azi2 as number) + 180);
      }
      const { distanceM, azimuthDeg, reverseAzimuthDeg } = held;
      const hasAzimuth = !(distanceM < SHORTEST_LINE_WITH_AZIMUTH_M);
      line.distanceM = distanceM;
      line.azimuthDeg = hasAzimuth ? azimuthDeg : null;
      line.reverseAzimuthDeg = hasAzimuth ? reverseAzimuthDeg : null;
      return line;
    },
    distanceM(latitude1Deg, longitude1Deg, latitude2Deg, longitude2Deg): number {
      check(latitude1Deg, longitude1Deg);
      check(latitude2Deg, longitude2Deg);
      if (short(latitude1Deg, longitude1Deg, latitude2Deg, longitude2Deg, held, false)) return held.distanceM;
      return anyLine().distanceM(latitude1Deg, longitude1Deg, latitude2Deg, longitude2Deg);
    },
    distancesTo(latitudesDeg, longitudesDeg): DistancesFrom {
      return distancesToMany(this, latitudesDeg, longitudesDeg);
    },
    direct(latitudeDeg, longitudeDeg, azimuthDeg, distanceM): GeodesicEnd {
      check(latitudeDeg, longitudeDeg);
      if (!Number.isFinite(azimuthDeg) || !Number.isFinite(distanceM)) {
        throw new InternalError('an azimuth or distance is not finite');
      }
      if (shortEnd(latitudeDeg, longitudeDeg, azimuthDeg, distanceM, end)) return { ...end };
      const { solver, ofEnd } = anyLine();
      const found = solver.Direct(latitudeDeg, longitudeDeg, azimuthDeg, distanceM, ofEnd);
      return {
        latitudeDeg: found.lat2 as number,
        longitudeDeg: found.lon2 as number,
        azimuthDeg: normaliseAzimuthDeg(found.azi2 as number),
      };
    },
    polygonArea(points): GeodesicArea {
      const polygon = anyLine().solver.Polygon(false);
      for (const point of points) {
        check(point.latitudeDeg, point.longitudeDeg);
        polygon.AddPoint(point.latitudeDeg, point.longitudeDeg);
      }
      const found = polygon.Compute(false, true);
      const signed = found.area as number;
      return { areaM2: Math.abs(signed), perimeterM: found.perimeter, counterClockwise: signed >= 0 };
    },
  };
}

/** Writes the distances from a position, degrees, to many, metres; see `Geodesic.distancesTo`. */
export type DistancesFrom = (latitudeDeg: number, longitudeDeg: number, intoM: Float64Array) => void;

/** The solver for any line, and what is asked of it. */
interface AnyLine {
  readonly solver: InstanceType<typeof geographiclib.Geodesic.Geodesic>;
  readonly distanceM: Geodesic['distanceM'];
  readonly ofLine: number;
  readonly ofEnd: number;
}

/** The solver when it is first asked for: most runs have no line that needs it, and loading the library is a part of a small run. */
function createAnyLine({ semiMajorAxisM, flattening }: Ellipsoid): () => AnyLine {
  let made: AnyLine | null = null;
  return () => {
    if (made !== null) return made;
    const { AZIMUTH, DISTANCE, LATITUDE, LONGITUDE, Geodesic: Solver } = geographiclib.Geodesic;
    const [ofLine, ofEnd] = [AZIMUTH | DISTANCE, LATITUDE | LONGITUDE | AZIMUTH];
    const solver = new Solver(semiMajorAxisM, flattening);
    const distanceM: Geodesic['distanceM'] = (...ends) => solver.Inverse(...ends, DISTANCE).s12 as number;
    return (made = { solver, distanceM, ofLine, ofEnd });
  };
}

function distancesToMany(geodesic: Geodesic, latitudesDeg: Float64Array, longitudesDeg: Float64Array): DistancesFrom {
  latitudesDeg.forEach((latitudeDeg, at) => {
    check(latitudeDeg, longitudesDeg[at] as number);
  });
  const shortDistances = createShortDistances(geodesic.ellipsoid, latitudesDeg, longitudesDeg);
  return (latitudeDeg, longitudeDeg, intoM) => {
    check(latitudeDeg, longitudeDeg);
    shortDistances(latitudeDeg, longitudeDeg, intoM);
    for (let at = 0; at < intoM.length; at += 1) {
      if (!Number.isNaN(intoM[at])) continue;
      intoM[at] = geodesic.distanceM(
        latitudeDeg,
        longitudeDeg,
        latitudesDeg[at] as number,
        longitudesDeg[at] as number,
      );
    }
  };
}

/** A line to be filled. */
export function emptyLine(): Draft<GeodesicLine> {
  return { distanceM: 0.5, azimuthDeg: 0.5, reverseAzimuthDeg: 0.5 };
}

function check(latitudeDeg: number, longitudeDeg: number): void {
  if (!(latitudeDeg >= -90 && latitudeDeg <= 90 && longitudeDeg - longitudeDeg === 0)) {
    throw new InternalError('a position given to the geodesic is out of range or not a number');
  }
}
