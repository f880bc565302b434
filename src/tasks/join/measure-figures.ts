import type { Geodesic } from '../../core/ellipsoid/geodesic.js';
import { pushAll } from '../../core/numeric/push-all.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { EllipsoidArea, EllipsoidStation, FigureArea, Station } from '../../records/points/point-join.js';
import type { Problem } from '../../records/problem.js';
import { stationFinder } from '../bases/stations.js';
import { ellipsoidArea } from './ellipsoid-area.js';
import { figureArea } from './figure-area.js';
import type { StationsOfFile } from './join-lines.js';
import type { JoinSetup } from './join-points.js';

/** A closed figure with its corners. */
export interface MeasuredFigure<A = FigureArea, S = Station> {
  readonly area: A;
  readonly corners: readonly S[];
}

/**
 * The areas of closed figures, each named by the ids of its corners; one that is written closed is the same figure.
 * Problems: value-unknown-id, value-duplicate-id; those of `figureArea`.
 *
 * @example
 * // A square of 100 m on the grid.
 * const grid = loadGridSystem('EPSG:28355').value;
 * const corner = ([first, second], at) => {
 *   const place = { latitudeDeg: 0, longitudeDeg: 0 };
 *   grid.inverse(first, second, place);
 *   return { ...place, pointId: String(at), occupation: '', gridFirst: first, gridSecond: second, ellipsoidalHeightM: null };
 * };
 * const stations = [[3e5, 58e5], [3e5 + 100, 58e5], [3e5 + 100, 58e5 + 100], [3e5, 58e5 + 100]].map(corner);
 * const of = { stations, source: 'square' };
 * const [figure] = measureFigures([['0', '1', '2', '3']], of, { grid, geodesic: createGeodesic(GRS80) }).value;
 * figure.area.gridAreaM2; // 10000.00
 */
export function measureFigures(
  figures: readonly (readonly string[])[],
  of: StationsOfFile,
  setup: JoinSetup,
): Outcome<readonly MeasuredFigure[]> {
  return measureWith(figures, of, (corners) => figureArea(corners, setup));
}

/** The same without a map: areas inside geodesic sides. Problems: value-unknown-id, value-duplicate-id; those of `ellipsoidArea`. */
export function measureOnEllipsoid(
  figures: readonly (readonly string[])[],
  of: StationsOfFile<EllipsoidStation>,
  geodesic: Geodesic,
): Outcome<readonly MeasuredFigure<EllipsoidArea, EllipsoidStation>[]> {
  return measureWith(figures, of, (corners) => ellipsoidArea(corners, geodesic));
}

function measureWith<A, S extends EllipsoidStation>(
  figures: readonly (readonly string[])[],
  of: StationsOfFile<S>,
  areaOf: (corners: readonly S[]) => Outcome<A>,
): Outcome<readonly MeasuredFigure<A, S>[]> {
  const find = stationFinder(of.stations, of.source);
  const measured: MeasuredFigure<A, S>[] = [];
  const warnings: Problem[] = [];
  for (const named of figures) {
    const ids = named.length > 1 && named[0] === named.at(-1) ? named.slice(0, -1) : named;
    const corners: S[] = [];
    for (const id of ids) {
      const corner = find(id);
      if (!corner.ok) return corner;
      corners.push(corner.value);
    }
    const area = areaOf(corners);
    if (!area.ok) return area;
    pushAll(warnings, area.problems);
    measured.push({ area: area.value, corners });
  }
  return success(measured, warnings);
}
