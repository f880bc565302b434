import type { Surroundings } from '../../../../files/surroundings.js';
import { readCsv } from '../../../../io/csv/csv-read.js';
import { DEFAULT_DIALECT } from '../../../../io/csv/csv-dialect.js';
import { readOccupations } from '../../../../io/tables/fixes/occupations-read.js';
import type { OccupationInterval } from '../../../../io/tables/fixes/occupations-read.js';
import { openSource } from '../../../../io/bytes/source.js';
import type { Source } from '../../../../io/bytes/source.js';
import { success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';

/** A file of occupation names, or null where none is named. */
export async function openOccupations(
  path: string | null,
  { cwd, stdin }: Surroundings,
): Promise<Outcome<{ readonly intervals: readonly OccupationInterval[]; readonly source: Source } | null>> {
  if (path === null) return success(null);
  const opened = await openSource(path, { cwd, stdin });
  if (!opened.ok) return opened;
  const table = await readCsv(opened.value, DEFAULT_DIALECT);
  if (!table.ok) return table;
  const intervals = await readOccupations(table.value);
  return intervals.ok ? success({ intervals: intervals.value, source: opened.value }, intervals.problems) : intervals;
}
