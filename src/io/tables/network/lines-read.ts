import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { LineRow } from '../../../records/network-rows.js';
import { createCellReader } from '../../csv/cell-read.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { everyRow } from '../../csv/every-row.js';
import { mapColumns } from '../columns/column-map.js';

/** Which of the two tables of single numbers between two stations. */
export type LineTable = 'levelled' | 'distances';

const VALUES: Readonly<Record<LineTable, { readonly column: string; readonly least: number }>> = {
  levelled: { column: 'orthometric_height_difference_m', least: -10_000 },
  distances: { column: 'slope_distance_m', least: 0.1 },
};

/**
 * Reads levelled height differences (`from_id, to_id, orthometric_height_difference_m, sigma_m`) or distances (`from_id, to_id,
 * slope_distance_m, sigma_m`, and heights of instrument and target above their marks where the distance is between those).
 * Problems: those of the table and its cells; value-out-of-range for a line from a station to itself; nothing is returned when
 * any row is bad.
 */
export async function readLines(
  table: CsvTable,
  sourceIndex: number,
  kind: LineTable,
): Promise<Outcome<readonly LineRow[]>> {
  const { source, header, headerLine, dialect } = table;
  const { column, least } = VALUES[kind];
  const ups = kind === 'distances' ? ['instrument_height_m', 'target_height_m'] : [];
  const required = ['from_id', 'to_id', column, 'sigma_m'];
  const spec = { columns: [...required, ...ups], required, choices: [], heights: [] };
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, spec, {});
  if (!mapped.ok) return mapped;
  const cells = createCellReader(mapped.value, source, dialect.decimalComma);
  const c = cells.column;
  const [from, to, value, sigma] = [c('from_id'), c('to_id'), c(column), c('sigma_m')];
  const [instrument, target] = [c('instrument_height_m'), c('target_height_m')];
  const found: LineRow[] = [];
  const read = await everyRow(table, cells, (line) => {
    const row: LineRow = {
      fromId: cells.requiredId(from) ?? '',
      toId: cells.requiredId(to) ?? '',
      valueM: cells.requiredNumber(value, least, 100_000) ?? 0,
      sigmaM: cells.requiredNumber(sigma, 1e-5, 100) ?? 0,
      fromUpM: cells.optionalNumber(instrument, -10, 100) ?? 0,
      toUpM: cells.optionalNumber(target, -10, 100) ?? 0,
      place: { sourceIndex, line },
    };
    if (cells.problems.length > 0) return;
    if (row.fromId === row.toId) cells.report('value-out-of-range', to, `the line goes from ${row.fromId} to itself`);
    else found.push(row);
  });
  if (!read.ok) return read;
  return read.value.length > 0 ? failureOf(read.value) : success(found, [...mapped.problems, ...read.problems]);
}
