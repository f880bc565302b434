import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { PointNeeds } from '../../io/tables/points/point-row-read.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { PointRow } from '../../records/points/point-row.js';
import { PLAIN_TABLES, workingFolder } from '../tables/as-it-stands.js';
import { openPoints } from './open-points.js';
import { wholePoints } from './whole-points.js';

/** How a file of points is read. */
export interface PointsFileReading {
  /** The system of its grid columns; absent: the pair is told by the names in the header. */
  readonly grid?: GridSystem;
  /** What every row must have; absent: a position of either kind. */
  readonly needs?: PointNeeds;
  /** Our name of a column to the file's header. */
  readonly columns?: Readonly<Record<string, string>>;
}

/**
 * All points of a file of points, control or design: CSV with a header, or GeoJSON by the extension of its name.
 *
 * Given: its path, from the working folder. Returned: the rows in their order; metres and degrees. Problems: file-not-found; those of the
 * columns; those of every bad row, and then no point is returned: nothing is left out in silence.
 *
 * @example
 * const grid = loadGridSystem('EPSG:2049');
 * const control = grid.ok ? await readPointsFile('control.csv', { grid: grid.value }) : grid;
 */
export async function readPointsFile(
  path: string,
  reading: PointsFileReading = {},
): Promise<Outcome<readonly PointRow[]>> {
  const settings = {
    tables: { ...PLAIN_TABLES, mapping: reading.columns ?? PLAIN_TABLES.mapping },
    grid: reading.grid ?? null,
    needs: reading.needs ?? { position: 'any', height: 'none' },
  } as const;
  const opened = await openPoints(path, 0, settings, workingFolder());
  if (!opened.ok) return opened;
  const points = await wholePoints(opened.value);
  return points.ok ? success(points.value, [...opened.problems, ...points.problems]) : points;
}
