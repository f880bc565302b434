import type { IsoMeasurement } from '../../core/quality/standards/iso-17123-8.js';
import { openSource } from '../../io/bytes/source.js';
import type { Source } from '../../io/bytes/source.js';
import { readCsv } from '../../io/csv/csv-read.js';
import { readIsoSeries } from '../../io/tables/iso-series-read.js';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import { PLAIN_TABLES, workingFolder } from './as-it-stands.js';
import type { Surroundings } from '../surroundings.js';
import type { TableReading } from './table-reading.js';

/** A file of the field procedure of ISO 17123-8, read to its end. */
export interface SeriesFile {
  readonly source: Source;
  readonly measurements: readonly IsoMeasurement[];
}

/**
 * Reads a file of series, sets and points. Given: its path; how it is written, absent: as our own tables are; where paths start from,
 * absent: the working folder. Returned: what `runIso` takes. Problems: those of opening it, of the table and of `readIsoSeries`.
 *
 * @example
 * const series = await readSeriesFile('../quillback-pan-check/series.csv');
 * series.value.measurements.length; // 30
 */
export async function readSeriesFile(
  path: string,
  tables: TableReading = PLAIN_TABLES,
  { cwd, stdin }: Surroundings = workingFolder(),
): Promise<Outcome<SeriesFile>> {
  const source = await openSource(path, { cwd, stdin, encoding: tables.encoding });
  if (!source.ok) return source;
  const table = await readCsv(source.value, tables.dialect);
  if (!table.ok) return table;
  const series = await readIsoSeries(table.value, tables.mapping);
  return series.ok
    ? success({ source: source.value, measurements: series.value }, [
        ...source.problems,
        ...table.problems,
        ...series.problems,
      ])
    : series;
}
