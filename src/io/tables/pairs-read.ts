import { failureOf, success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { RowPlace } from '../../records/points/fix.js';
import { createCellReader } from '../csv/cell-read.js';
import { mapColumns } from './columns/column-map.js';
import type { TableSpec } from './columns/column-map.js';
import type { CsvTable } from '../csv/csv-read.js';
import { everyRow } from '../csv/every-row.js';

/** Two points to be joined. */
export interface PointPair {
  readonly fromId: string;
  readonly toId: string;
  readonly place: RowPlace;
}

const PAIR_TABLE: TableSpec = {
  columns: ['from_id', 'to_id'],
  required: ['from_id', 'to_id'],
  choices: [],
  heights: [],
};

/**
 * Reads the file of --pairs: from_id, to_id. `sourceIndex` is the file's place in the run's list of inputs.
 * Problems: those of the table and its cells; nothing is returned when any row is bad.
 */
export async function readPairs(table: CsvTable, sourceIndex: number): Promise<Outcome<readonly PointPair[]>> {
  const { source, header, headerLine, dialect } = table;
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, PAIR_TABLE, {});
  if (!mapped.ok) return mapped;
  const cells = createCellReader(mapped.value, source, dialect.decimalComma);
  const from = cells.column('from_id');
  const to = cells.column('to_id');
  const found: PointPair[] = [];
  const problems = await everyRow(table, cells, (line) => {
    const fromId = cells.requiredId(from);
    const toId = cells.requiredId(to);
    if (fromId !== null && toId !== null) found.push({ fromId, toId, place: { sourceIndex, line } });
  });
  if (!problems.ok) return problems;
  return problems.value.length > 0 ? failureOf(problems.value) : success(found, problems.problems);
}
