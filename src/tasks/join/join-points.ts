import { geodeticToGeocentric } from '../../core/ellipsoid/geocentric.js';
import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import { eulerRadiusM, gaussRadiusM } from '../../core/ellipsoid/radii.js';
import { elevationFactor } from '../../core/grid/factors/elevation-factor.js';
import { gridLine } from '../../core/grid/factors/grid-line.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointJoin, Station } from '../../records/points/point-join.js';

/** What lines are computed with: the grid, and geodesics on the ellipsoid of its base. */
export interface JoinSetup {
  readonly grid: GridSystem;
  readonly geodesic: Geodesic;
}

/**
 * The join between two points: every distance, bearing, factor and height difference.
 *
 * Quantities that need heights are null where a height is not known; directions are null where the
 * points are closer than 0.1 mm. Problems: those of the projection at the middle of the line.
 * Method: docs/methods/join.md. The polar problem, `polarPoint`, is the inverse.
 *
 * @example
 * // Flinders Peak to Buninyong, worked example of the GDA2020 manual.
 * const none = { occupation: '', orthometricHeightM: null, place: { file: null, line: 1, record: 1 } };
 * const flinders = { latitudeDeg: -37.9510334167, longitudeDeg: 144.4248678889, ellipsoidalHeightM: 350.948 };
 * const buninyong = { latitudeDeg: -37.6528211389, longitudeDeg: 143.9264955278, ellipsoidalHeightM: 749.855 };
 * const setup = { grid: loadGridSystem('EPSG:28355').value, geodesic: createGeodesic(GRS80) };
 * const station = (pointId, { ...place }) => {
 *   const pair = { first: 0, second: 0 };
 *   setup.grid.forward(place.latitudeDeg, place.longitudeDeg, pair);
 *   return { pointId, ...place, gridFirst: pair.first, gridSecond: pair.second, ...none };
 * };
 * const join = joinPoints(station('F', flinders), station('B', buninyong), setup).value;
 * [join.gridDistanceM, join.ellipsoidalDistanceM, join.azimuthDeg]; // [54992.279, 54972.271, 306.868]
 */
export function joinPoints(from: Station, to: Station, setup: JoinSetup): Outcome<PointJoin> {
  const found = gridLine(setup.grid, setup.geodesic, from, to);
  if (!found.ok) return found;
  const line = found.value;
  const { ellipsoid } = setup.grid.base;
  const radiusM =
    line.azimuthDeg === null || line.reverseAzimuthDeg === null
      ? gaussRadiusM(ellipsoid, line.middle.latitudeDeg)
      : eulerRadiusM(ellipsoid, line.middle.latitudeDeg, middleAzimuthDeg(line.azimuthDeg, line.reverseAzimuthDeg));
  const [h1, h2] = [from.ellipsoidalHeightM, to.ellipsoidalHeightM];
  const meanHeightM = h1 === null || h2 === null ? null : (h1 + h2) / 2;
  const factor = meanHeightM === null ? null : elevationFactor(radiusM, meanHeightM);
  return success({
    from,
    to,
    gridDistanceM: line.gridDistanceM,
    gridBearingDeg: line.gridBearingDeg,
    azimuthDeg: line.azimuthDeg,
    reverseAzimuthDeg: line.reverseAzimuthDeg,
    convergenceFromDeg: line.convergenceFromDeg,
    convergenceToDeg: line.convergenceToDeg,
    arcToChordFromArcsec: line.arcToChordFromArcsec,
    arcToChordToArcsec: line.arcToChordToArcsec,
    pointScaleFactorFrom: line.pointScaleFactorFrom,
    pointScaleFactorMiddle: line.pointScaleFactorMiddle,
    pointScaleFactorTo: line.pointScaleFactorTo,
    lineScaleFactor: line.lineScaleFactor,
    ellipsoidalDistanceM: line.ellipsoidalDistanceM,
    radiusM,
    meanHeightM,
    elevationFactor: factor,
    groundDistanceM: factor === null ? null : line.ellipsoidalDistanceM / factor,
    slopeDistanceM: slope(from, to, setup),
    ellipsoidalHeightDifferenceM: h1 === null || h2 === null ? null : h2 - h1,
    orthometricHeightDifferenceM:
      from.orthometricHeightM === null || to.orthometricHeightM === null
        ? null
        : to.orthometricHeightM - from.orthometricHeightM,
  });
}

/** Direction of travel at the middle: between those at the two ends. */
function middleAzimuthDeg(azimuthDeg: number, reverseAzimuthDeg: number): number {
  const turn = ((reverseAzimuthDeg + 180 - azimuthDeg + 540) % 360) - 180;
  return azimuthDeg + turn / 2;
}

/** Straight line between the marks, from their geocentric positions: no approximation. */
function slope(from: Station, to: Station, setup: JoinSetup): number | null {
  if (from.ellipsoidalHeightM === null || to.ellipsoidalHeightM === null) return null;
  const { ellipsoid } = setup.grid.base;
  const a = geodeticToGeocentric({ ...from, ellipsoidalHeightM: from.ellipsoidalHeightM }, ellipsoid);
  const b = geodeticToGeocentric({ ...to, ellipsoidalHeightM: to.ellipsoidalHeightM }, ellipsoid);
  return Math.sqrt((b.xM - a.xM) ** 2 + (b.yM - a.yM) ** 2 + (b.zM - a.zM) ** 2);
}
