import { failure, success, type Outcome } from '../../../records/outcome.js';
import type { Geodesic, GeodesicLine } from '../../ellipsoid/geodesic.js';
import { DEGREES_PER_RADIAN, normaliseAzimuthDeg, normaliseLongitudeDeg } from '../../numeric/angle-units.js';
import { arcToChordArcsec } from './arc-to-chord.js';
import { emptyGridPairAndFactors } from './grid-factors.js';
import { gridProblem } from '../systems/grid-problem.js';
import { unitsEastNorth } from '../systems/grid-axes.js';
import type { GridPairAndFactors, GridSystem } from '../systems/grid-system.js';
import { lineScaleFactor } from './line-scale-factor.js';

/** An end of a line, degrees. */
export interface LineEnd {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
}

/** A line between two points, on the grid and on the ellipsoid. Directions of a line shorter than 0.1 mm are null. */
export interface GridLine {
  /** Straight, between the grid pairs, metres whatever the unit of the grid. */
  readonly gridDistanceM: number;
  /** From grid north, which is the direction of decreasing southing in a south-orientated grid. */
  readonly gridBearingDeg: number | null;
  readonly ellipsoidalDistanceM: number;
  readonly azimuthDeg: number | null;
  /** At the far end, back to the near end. */
  readonly reverseAzimuthDeg: number | null;
  readonly convergenceFromDeg: number;
  readonly convergenceToDeg: number;
  readonly arcToChordFromArcsec: number | null;
  readonly arcToChordToArcsec: number | null;
  /** Null where the projection has no single scale at a point. */
  readonly lineScaleFactor: number | null;
  readonly pointScaleFactorFrom: number | null;
  readonly pointScaleFactorMiddle: number | null;
  readonly pointScaleFactorTo: number | null;
  /** The middle of the geodesic. */
  readonly middle: LineEnd;
}

/**
 * Everything about a line that needs no heights.
 *
 * Given: the grid; geodesics on the ellipsoid of the grid's base; the two ends.
 * Returned: the line. Problems: those of the conversion of its ends or its middle.
 * Reference: GDA2020-TM, the worked line Flinders Peak to Buninyong.
 *
 * @example
 * // Flinders Peak to Buninyong, worked example of the GDA2020 manual.
 * const grid = loadGridSystem('EPSG:28355').value;
 * const from = { latitudeDeg: -37.9510334167, longitudeDeg: 144.4248678889 };
 * const to = { latitudeDeg: -37.6528211389, longitudeDeg: 143.9264955278 };
 * const line = gridLine(grid, createGeodesic(GRS80), from, to).value;
 * line.ellipsoidalDistanceM; // 54972.271
 * line.gridDistanceM; // 54992.279
 * line.lineScaleFactor; // 1.00036397
 */
export function gridLine(system: GridSystem, geodesic: Geodesic, from: LineEnd, to: LineEnd): Outcome<GridLine> {
  return createGridLines(system, geodesic)(from, to);
}

/** The same for line after line: what is known of the end of one counts at the beginning of the next, where that is the same place. */
export function createGridLines(
  system: GridSystem,
  geodesic: Geodesic,
): (from: LineEnd, to: LineEnd) => Outcome<GridLine> {
  let near = emptyGridPairAndFactors();
  let far = emptyGridPairAndFactors();
  const half = emptyGridPairAndFactors();
  /** Where `far` is; not a number where it is nowhere yet. */
  let [latitudeDeg, longitudeDeg] = [NaN, NaN];
  return (from, to) => {
    if (from.latitudeDeg === latitudeDeg && from.longitudeDeg === longitudeDeg) {
      const known = far;
      far = near;
      near = known;
    } else {
      const status = system.forwardWithFactors(from.latitudeDeg, from.longitudeDeg, near);
      if (status !== 'ok') return failure(gridProblem(status, from, system));
    }
    latitudeDeg = NaN;
    const farStatus = system.forwardWithFactors(to.latitudeDeg, to.longitudeDeg, far);
    if (farStatus !== 'ok') return failure(gridProblem(farStatus, to, system));
    latitudeDeg = to.latitudeDeg;
    longitudeDeg = to.longitudeDeg;
    const line = geodesic.inverse(from.latitudeDeg, from.longitudeDeg, to.latitudeDeg, to.longitudeDeg);
    const middle =
      line.azimuthDeg === null
        ? from
        : geodesic.direct(from.latitudeDeg, from.longitudeDeg, line.azimuthDeg, line.distanceM / 2);
    const place = { latitudeDeg: middle.latitudeDeg, longitudeDeg: normaliseLongitudeDeg(middle.longitudeDeg) };
    const halfStatus = system.forwardWithFactors(place.latitudeDeg, place.longitudeDeg, half);
    if (halfStatus !== 'ok') return failure(gridProblem(halfStatus, middle, system));
    return success(lineOf(system, line, { near, half, far }, place));
  };
}

/** What is known of the two ends and the middle of a line. */
type PlacesOfLine = Readonly<Record<'near' | 'half' | 'far', GridPairAndFactors>>;

function lineOf(system: GridSystem, line: GeodesicLine, { near, half, far }: PlacesOfLine, middle: LineEnd): GridLine {
  const { gridDistanceM, bearingDeg } = straightLine(system, near, far);
  const gridBearingDeg = line.azimuthDeg === null ? null : bearingDeg;
  const { pointScaleFactor: kFrom } = near;
  const { pointScaleFactor: kMiddle } = half;
  const { pointScaleFactor: kTo } = far;
  return {
    gridDistanceM,
    gridBearingDeg,
    ellipsoidalDistanceM: line.distanceM,
    azimuthDeg: line.azimuthDeg,
    reverseAzimuthDeg: line.reverseAzimuthDeg,
    convergenceFromDeg: near.convergenceDeg,
    convergenceToDeg: far.convergenceDeg,
    arcToChordFromArcsec: correction(line.azimuthDeg, near.convergenceDeg, gridBearingDeg),
    arcToChordToArcsec: correction(
      line.reverseAzimuthDeg,
      far.convergenceDeg,
      gridBearingDeg === null ? null : gridBearingDeg + 180,
    ),
    lineScaleFactor: kFrom === null || kMiddle === null || kTo === null ? null : lineScaleFactor(kFrom, kMiddle, kTo),
    pointScaleFactorFrom: kFrom,
    pointScaleFactorMiddle: kMiddle,
    pointScaleFactorTo: kTo,
    middle,
  };
}

function correction(azimuthDeg: number | null, convergenceDeg: number, bearingDeg: number | null): number | null {
  return azimuthDeg === null || bearingDeg === null ? null : arcToChordArcsec(azimuthDeg, convergenceDeg, bearingDeg);
}

function straightLine(
  system: GridSystem,
  from: GridPairAndFactors,
  to: GridPairAndFactors,
): { readonly gridDistanceM: number; readonly bearingDeg: number } {
  const [eastUnit, northUnit] = unitsEastNorth(system.axes);
  const eastM = (to.first - from.first) * eastUnit;
  const northM = (to.second - from.second) * northUnit;
  return {
    gridDistanceM: Math.sqrt(eastM * eastM + northM * northM),
    bearingDeg: normaliseAzimuthDeg(Math.atan2(eastM, northM) * DEGREES_PER_RADIAN),
  };
}
