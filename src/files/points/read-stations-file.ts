import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { createStationMaker } from '../../tasks/bases/stations.js';
import type { StationSetup } from '../../tasks/bases/prepare-station.js';
import type { StationsOfFile } from '../../tasks/join/join-lines.js';
import type { SiteRequest } from '../../tasks/site/run-site.js';
import { PLAIN_TABLES, workingFolder } from '../tables/as-it-stands.js';
import { openPoints } from './open-points.js';
import type { PointsFileReading } from './read-points-file.js';
import { wholePoints } from './whole-points.js';

/** Points of one file with their place on the ellipsoid and in the grid: what lines are drawn between and a site is fitted from. */
export type StationsFile = StationsOfFile & SiteRequest['measured'];

/**
 * All points of a file as stations: with both kinds of position, and with a geoid both heights.
 *
 * Given: its path, from the working folder; what `loadStationSetup` gives. Returned: what `joinLines`, `setOutPolars`, `measureFigures`
 * and `runSite` take. Rejected rows without a place are left out. Problems: as of `readPointsFile`; those of `prepareStation`, and
 * coordinate-implausible and the like where another reading of a pair fits. Warning: coordinate-outside-area.
 *
 * @example
 * const session = await readSessionFile('session.toml');
 * const setup = await loadStationSetup(session.value);
 * const points = await readStationsFile('../quillback-pan-site/points.csv', setup.value);
 * points.value.stations[0].pointId; // 'QS-1'
 */
export async function readStationsFile(
  path: string,
  setup: StationSetup,
  { columns }: Pick<PointsFileReading, 'columns'> = {},
): Promise<Outcome<StationsFile>> {
  const settings = {
    tables: { ...PLAIN_TABLES, mapping: columns ?? PLAIN_TABLES.mapping },
    grid: setup.grid,
    needs: { position: 'any', height: 'none' },
  } as const;
  const opened = await openPoints(path, 0, settings, workingFolder());
  if (!opened.ok) return opened;
  const maker = createStationMaker(setup, false);
  const points = await wholePoints(opened.value, maker.check);
  if (!points.ok) return points;
  const { source } = opened.value;
  const { stations, rows } = maker.stationsOf(points.value);
  return success({ stations, rows, source: source.name, digest: source.digest(), rowsSkipped: 0 }, [
    ...opened.problems,
    ...points.problems,
  ]);
}
