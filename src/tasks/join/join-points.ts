import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import type { Ellipsoid } from '../../core/ellipsoid/ellipsoid.js';
import { createGridLines } from '../../core/grid/factors/grid-line.js';
import type { GridLine } from '../../core/grid/factors/grid-line.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointJoin, Station } from '../../records/points/point-join.js';
import { joinAlong } from './join-on-ellipsoid.js';

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
  return createPointJoiner(setup)(from, to);
}

/** The same for line after line, of which each may begin where the one before ends. */
export function createPointJoiner({ grid, geodesic }: JoinSetup): (from: Station, to: Station) => Outcome<PointJoin> {
  const lineOf = createGridLines(grid, geodesic);
  return (from, to) => {
    const line = lineOf(from, to);
    return line.ok ? success(joinOfLine(from, to, line.value, geodesic.ellipsoid)) : line;
  };
}

function joinOfLine(from: Station, to: Station, line: GridLine, ellipsoid: Ellipsoid): PointJoin {
  const { azimuthDeg, reverseAzimuthDeg, ellipsoidalDistanceM } = line;
  const known = {
    distanceM: ellipsoidalDistanceM,
    azimuthDeg,
    reverseAzimuthDeg,
    middleLatitudeDeg: line.middle.latitudeDeg,
  };
  const along = joinAlong(from, to, known, ellipsoid);
  // Member by member: to spread one record into another takes longer than all that is computed here.
  return {
    from,
    to,
    azimuthDeg,
    reverseAzimuthDeg,
    ellipsoidalDistanceM,
    radiusM: along.radiusM,
    meanHeightM: along.meanHeightM,
    elevationFactor: along.elevationFactor,
    groundDistanceM: along.groundDistanceM,
    slopeDistanceM: along.slopeDistanceM,
    ellipsoidalHeightDifferenceM: along.ellipsoidalHeightDifferenceM,
    orthometricHeightDifferenceM: along.orthometricHeightDifferenceM,
    gridDistanceM: line.gridDistanceM,
    gridBearingDeg: line.gridBearingDeg,
    convergenceFromDeg: line.convergenceFromDeg,
    convergenceToDeg: line.convergenceToDeg,
    arcToChordFromArcsec: line.arcToChordFromArcsec,
    arcToChordToArcsec: line.arcToChordToArcsec,
    pointScaleFactorFrom: line.pointScaleFactorFrom,
    pointScaleFactorMiddle: line.pointScaleFactorMiddle,
    pointScaleFactorTo: line.pointScaleFactorTo,
    lineScaleFactor: line.lineScaleFactor,
  };
}
