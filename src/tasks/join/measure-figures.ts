import { pushAll } from '../../core/numeric/push-all.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { FigureArea, Station } from '../../records/points/point-join.js';
import type { Problem } from '../../records/problem.js';
import { stationFinder } from '../bases/stations.js';
import { figureArea } from './figure-area.js';
import type { StationsOfFile } from './join-lines.js';
import type { JoinSetup } from './join-points.js';

/** A closed figure with its corners. */
export interface MeasuredFigure {
  readonly area: FigureArea;
  readonly corners: readonly Station[];
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
  const find = stationFinder(of.stations, of.source);
  const measured: MeasuredFigure[] = [];
  const warnings: Problem[] = [];
  for (const named of figures) {
    const ids = named.length > 1 && named[0] === named.at(-1) ? named.slice(0, -1) : named;
    const corners: Station[] = [];
    for (const id of ids) {
      const corner = find(id);
      if (!corner.ok) return corner;
      corners.push(corner.value);
    }
    const area = figureArea(corners, setup);
    if (!area.ok) return area;
    pushAll(warnings, area.problems);
    measured.push({ area: area.value, corners });
  }
  return success(measured, warnings);
}
