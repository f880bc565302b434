import { extname } from 'node:path';
import { readCsv } from '../../../io/csv/csv-read.js';
import type { CsvTable } from '../../../io/csv/csv-read.js';
import { readPlaceRows } from '../../../io/tables/points/place-rows-read.js';
import type { PlaceInput, PlaceReadOptions } from '../../../io/tables/points/place-input.js';
import { openSource } from '../../../io/bytes/source.js';
import type { Source } from '../../../io/bytes/source.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Context } from '../../shell/context.js';
import type { TableOptions } from '../../inputs/table-options.js';

/** A file of points to be carried to another system, opened. */
export interface OpenedPlaces {
  readonly source: Source;
  readonly kind: 'csv' | 'geojson';
  readonly input: PlaceInput;
}

/** What our own GeoJSON says once of the whole file; it does not hold for carried points. */
const OF_THE_COLLECTION: readonly string[] = ['frame', 'frame_epoch_year', 'system'];

/**
 * Opens points, CSV or GeoJSON by the name of the file. Given: path or `-`; what is read of a row, but for what only
 * GeoJSON has. Problems: those of the file and of its columns; the file is closed again.
 */
export async function openPlaces(
  path: string,
  options: Omit<PlaceReadOptions, 'place'>,
  tables: TableOptions,
  { cwd, stdin }: Context,
): Promise<Outcome<OpenedPlaces>> {
  const opened = await openSource(path, { cwd, stdin, encoding: tables.encoding });
  if (!opened.ok) return opened;
  const source = opened.value;
  const kind = ['.geojson', '.json'].includes(extname(path).toLowerCase()) ? 'geojson' : 'csv';
  const input =
    kind === 'csv' ? placesOf(await readCsv(source, tables.dialect), options) : await geojsonPlaces(source, options);
  if (!input.ok) {
    await source.close();
    return input;
  }
  return success({ source, kind, input: input.value }, input.problems);
}

function placesOf(table: Outcome<CsvTable>, options: PlaceReadOptions): Outcome<PlaceInput> {
  return table.ok ? readPlaceRows(table.value, options) : table;
}

async function geojsonPlaces(source: Source, options: Omit<PlaceReadOptions, 'place'>): Promise<Outcome<PlaceInput>> {
  const { geojsonPlace, openGeojsonTable } = await import('../../../io/geojson/geojson-table.js');
  const alsoLeftOut = [...options.alsoLeftOut, ...OF_THE_COLLECTION];
  return placesOf(await openGeojsonTable(source, 'allowed'), {
    ...options,
    alsoLeftOut,
    place: geojsonPlace,
  });
}
