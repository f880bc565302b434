import type { Outcome } from '../../records/outcome.js';
import type { CsvTable } from '../csv/csv-read.js';
import { column } from './columns/column.js';
import type { Column } from './columns/column.js';
import { readWholeTable } from './columns/read-table.js';

/** A window of the sky of a point, as plan-sky --windows writes it. */
export interface SkyWindowRow {
  readonly pointId: string;
  readonly fromMs: number;
  readonly toMs: number;
  /** Whether the limits are met in it. */
  readonly isGood: boolean;
  /** Line of the file, from 1. */
  readonly line: number;
}

const VERDICTS: ReadonlyMap<string, boolean> = new Map([
  ['within', true],
  ['no', false],
]);

/** The columns of a file of windows that are read. */
export const SKY_WINDOW_COLUMNS: readonly Column<SkyWindowRow>[] = [
  column({ name: 'point_id', kind: 'id', isNeeded: true, put: (row, id) => (row.pointId = id), describe: 'the point' }),
  column({
    name: 'from_utc',
    kind: 'time',
    isNeeded: true,
    put: (row, from) => (row.fromMs = from),
    describe: 'when it begins',
  }),
  column({
    name: 'to_utc',
    kind: 'time',
    isNeeded: true,
    put: (row, to) => (row.toMs = to),
    describe: 'when it ends',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    words: VERDICTS,
    isNeeded: true,
    put: (row, isGood) => (row.isGood = isGood),
    describe: '`within`: an occupation may lie in it; `no`: not',
  }),
];

/** Reads a file of windows. Problems: those of the table and its cells; value-out-of-range for a window that ends before it begins. */
export function readSkyWindows(table: CsvTable): Promise<Outcome<readonly SkyWindowRow[]>> {
  return readWholeTable<SkyWindowRow>(table, {
    columns: SKY_WINDOW_COLUMNS,
    blank: (line) => ({ pointId: '', fromMs: NaN, toMs: NaN, isGood: false, line }),
    check({ fromMs, toMs }, cells) {
      if (toMs > fromMs || Number.isNaN(toMs - fromMs)) return;
      const where = cells.column('to_utc');
      cells.report('value-out-of-range', where, 'the window ends before it begins', 'exchange the two times');
    },
  });
}
