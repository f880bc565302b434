import { geoidProblem } from '../../core/geoid/geoid-problem.js';
import { orthometricHeightM } from '../../core/geoid/orthometric-height.js';
import { failure, failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PolarLine, Station } from '../../records/points/point-join.js';
import { locateProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { StationSetup } from '../bases/prepare-station.js';
import { stationFinder } from '../bases/stations.js';
import type { StationsOfFile } from './join-lines.js';
import type { JoinSetup } from './join-points.js';
import { polarPoint } from './polar-points.js';

/** A point set out by direction and distance, and the known point it was set out from. */
export interface PolarPoint {
  readonly point: Station;
  readonly fromId: string;
  readonly from: Station;
}

/**
 * The points of polar lines, in order; the orthometric height through the geoid, where there is one and the ellipsoidal height is
 * known.
 *
 * Given: the lines and the name of their file; the stations they begin at; grid, geodesic and geoid. Problems: value-unknown-id
 * and value-duplicate-id; those of `polarPoint` and of the geoid; of every line, not only the first.
 *
 * @example
 * // Flinders Peak to Buninyong by its azimuth and distance, worked example of the GDA2020 manual.
 * const setup = { grid: loadGridSystem('EPSG:28355').value, geodesic: createGeodesic(GRS80), geoid: null };
 * const none = { occupation: '', orthometricHeightM: null, place: { file: null, line: 1, record: 1 } };
 * const flinders = { latitudeDeg: -37.9510334167, longitudeDeg: 144.4248678889, ellipsoidalHeightM: 350.948 };
 * const buninyong = { latitudeDeg: -37.6528211389, longitudeDeg: 143.9264955278, ellipsoidalHeightM: 749.855 };
 * const station = (pointId, { ...place }) => {
 *   const pair = { first: 0, second: 0 };
 *   setup.grid.forward(place.latitudeDeg, place.longitudeDeg, pair);
 *   return { pointId, ...place, gridFirst: pair.first, gridSecond: pair.second, ...none };
 * };
 * const of = { stations: [station('F', flinders), station('B', buninyong)], source: 'manual' };
 * const line = { pointId: 'P', fromId: 'F', azimuthDeg: 306.868158333, gridBearingDeg: null, distanceM: 54972.271, place: none.place };
 * const lines = [{ ...line, distanceKind: 'ellipsoidal', heightDifferenceM: null }];
 * const [{ point }] = setOutPolars(lines, 'lines', of, setup).value;
 * [point.latitudeDeg, point.longitudeDeg]; // [-37.6528211, 143.9264955]
 */
export function setOutPolars(
  lines: readonly PolarLine[],
  source: string,
  of: StationsOfFile,
  setup: JoinSetup & StationSetup,
): Outcome<readonly PolarPoint[]> {
  const find = stationFinder(of.stations, of.source);
  const problems: Problem[] = [];
  const points = lines.flatMap((line): readonly PolarPoint[] => {
    const where = { source, line: line.place.line };
    const from = find(line.fromId, where);
    const point = from.ok ? withOrthometric(polarPoint(line, from.value, setup), setup) : from;
    for (const problem of point.problems) problems.push(locateProblem(problem, where));
    return from.ok && point.ok ? [{ point: point.value, fromId: line.fromId, from: from.value }] : [];
  });
  return problems.some(({ severity }) => severity === 'error') ? failureOf(problems) : success(points, problems);
}

function withOrthometric(point: Outcome<Station>, { geoid }: StationSetup): Outcome<Station> {
  if (!point.ok || geoid === null || point.value.ellipsoidalHeightM === null) return point;
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = point.value;
  const n = geoid.heightAt(latitudeDeg, longitudeDeg);
  if (n === null) {
    const status = geoid.statusAt(latitudeDeg, longitudeDeg);
    return failure(geoidProblem(status === 'nodata' ? 'nodata' : 'outside', latitudeDeg, longitudeDeg, geoid.grid));
  }
  return success({ ...point.value, orthometricHeightM: orthometricHeightM(ellipsoidalHeightM, n) }, point.problems);
}
