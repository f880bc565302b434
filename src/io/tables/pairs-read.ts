import type { Outcome } from '../../records/outcome.js';
import type { RowPlace } from '../../records/points/fix.js';
import type { CsvTable } from '../csv/csv-read.js';
import { column } from './columns/column.js';
import type { Column } from './columns/column.js';
import { readWholeTable } from './columns/read-table.js';

/** Two points to be joined. */
export interface PointPair {
  readonly fromId: string;
  readonly toId: string;
  readonly place: RowPlace;
}

/** The columns of the file of --pairs. */
export const PAIR_COLUMNS: readonly Column<PointPair>[] = [
  column({
    name: 'from_id',
    kind: 'id',
    isNeeded: true,
    put: (pair, id) => (pair.fromId = id),
    describe: 'where the line begins, ID or ID@OCCUPATION',
  }),
  column({
    name: 'to_id',
    kind: 'id',
    isNeeded: true,
    put: (pair, id) => (pair.toId = id),
    describe: 'where it ends',
  }),
];

/**
 * Reads the file of --pairs: from_id, to_id. `sourceIndex` is the file's place in the run's list of inputs.
 * Problems: those of the table and its cells; nothing is returned when any row is bad.
 */
export function readPairs(table: CsvTable, sourceIndex: number): Promise<Outcome<readonly PointPair[]>> {
  return readWholeTable<PointPair>(table, {
    columns: PAIR_COLUMNS,
    blank: (line) => ({ fromId: '', toId: '', place: { sourceIndex, line } }),
  });
}
