import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import type { Geodesic, GeodesicLine } from '../../core/ellipsoid/geodesic.js';
import { eulerRadiusM, gaussRadiusM } from '../../core/ellipsoid/radii.js';
import { elevationFactor } from '../../core/grid/factors/elevation-factor.js';
import type { GeodeticPoint } from '../../records/points/point.js';
import type { EllipsoidJoin, EllipsoidStation } from '../../records/points/point-join.js';

/**
 * What of the join between two points needs no map: the geodesic, and what heights make of it.
 *
 * Given: the two points; geodesics on their ellipsoid. Returned: the join. Quantities that need heights are null where a height is
 * not known; azimuths are null where the points are closer than 0.1 mm. Method: docs/methods/join.md.
 *
 * @example
 * // Flinders Peak to Buninyong, worked example of the GDA2020 manual.
 * const none = { occupation: '', orthometricHeightM: null, place: { file: null, line: 1, record: 1 } };
 * const flinders = { pointId: 'F', latitudeDeg: -37.9510334167, longitudeDeg: 144.4248678889, ellipsoidalHeightM: 350.948, ...none };
 * const buninyong = { pointId: 'B', latitudeDeg: -37.6528211389, longitudeDeg: 143.9264955278, ellipsoidalHeightM: 749.855, ...none };
 * const join = joinOnEllipsoid(flinders, buninyong, createGeodesic(GRS80));
 * [join.ellipsoidalDistanceM, join.azimuthDeg]; // [54972.271, 306.868]
 */
export function joinOnEllipsoid(from: EllipsoidStation, to: EllipsoidStation, geodesic: Geodesic): EllipsoidJoin {
  const line = geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
  const { azimuthDeg, distanceM } = line;
  const middle =
    azimuthDeg === null ? from : geodesic.direct(from.latitudeDeg, from.longitudeDeg, azimuthDeg, distanceM / 2);
  return joinAlong(from, to, { ...line, middleLatitudeDeg: middle.latitudeDeg }, geodesic.ellipsoid);
}

/** The geodesic between two points, and where its middle is. */
export interface KnownLine extends GeodesicLine {
  readonly middleLatitudeDeg: number;
}

/** The same where the geodesic is known. */
export function joinAlong(
  from: EllipsoidStation,
  to: EllipsoidStation,
  { azimuthDeg, reverseAzimuthDeg, distanceM, middleLatitudeDeg }: KnownLine,
  ellipsoid: Ellipsoid,
): EllipsoidJoin {
  const radiusM =
    azimuthDeg === null || reverseAzimuthDeg === null
      ? gaussRadiusM(ellipsoid, middleLatitudeDeg)
      : eulerRadiusM(ellipsoid, middleLatitudeDeg, middleAzimuthDeg(azimuthDeg, reverseAzimuthDeg));
  const [h1, h2] = [from.ellipsoidalHeightM, to.ellipsoidalHeightM];
  const meanHeightM = h1 === null || h2 === null ? null : (h1 + h2) / 2;
  const factor = meanHeightM === null ? null : elevationFactor(radiusM, meanHeightM);
  return {
    from,
    to,
    azimuthDeg,
    reverseAzimuthDeg,
    ellipsoidalDistanceM: distanceM,
    radiusM,
    meanHeightM,
    elevationFactor: factor,
    groundDistanceM: factor === null ? null : distanceM / factor,
    slopeDistanceM: slope(from, to, ellipsoid),
    ellipsoidalHeightDifferenceM: h1 === null || h2 === null ? null : h2 - h1,
    orthometricHeightDifferenceM:
      from.orthometricHeightM === null || to.orthometricHeightM === null
        ? null
        : to.orthometricHeightM - from.orthometricHeightM,
  };
}

/** Direction of travel at the middle: between those at the two ends. */
export function middleAzimuthDeg(azimuthDeg: number, reverseAzimuthDeg: number): number {
  const turn = ((reverseAzimuthDeg + 180 - azimuthDeg + 540) % 360) - 180;
  return azimuthDeg + turn / 2;
}

/** Straight line between the marks, from their geocentric positions: no approximation. */
function slope(from: EllipsoidStation, to: EllipsoidStation, ellipsoid: Ellipsoid): number | null {
  if (from.ellipsoidalHeightM === null || to.ellipsoidalHeightM === null) return null;
  const a = geodeticToGeocentric(placeOf(from, from.ellipsoidalHeightM), ellipsoid);
  const b = geodeticToGeocentric(placeOf(to, to.ellipsoidalHeightM), ellipsoid);
  return Math.sqrt((b.xM - a.xM) ** 2 + (b.yM - a.yM) ** 2 + (b.zM - a.zM) ** 2);
}

function placeOf({ latitudeDeg, longitudeDeg }: EllipsoidStation, ellipsoidalHeightM: number): GeodeticPoint {
  return { latitudeDeg, longitudeDeg, ellipsoidalHeightM };
}
