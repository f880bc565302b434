import type { Outcome } from '../../../records/outcome.js';
import type { LineRow } from '../../../records/network-rows.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';
import { readWholeTable } from '../columns/read-table.js';

/** Which of the two tables of single numbers between two stations. */
export type LineTable = 'levelled' | 'distances';

const ENDS: readonly Column<LineRow>[] = [
  column({
    name: 'from_id',
    kind: 'id',
    isNeeded: true,
    put: (row, id) => (row.fromId = id),
    describe: 'where it begins',
  }),
  column({ name: 'to_id', kind: 'id', isNeeded: true, put: (row, id) => (row.toId = id), describe: 'where it ends' }),
];
const SIGMA: Column<LineRow> = column({
  name: 'sigma_m',
  kind: 'number',
  isNeeded: true,
  range: [1e-5, 100],
  put: (row, sigmaM) => (row.sigmaM = sigmaM),
  describe: 'its sigma',
});

const COLUMNS: Readonly<Record<LineTable, readonly Column<LineRow>[]>> = {
  levelled: [
    ...ENDS,
    column({
      name: 'orthometric_height_difference_m',
      kind: 'number',
      isNeeded: true,
      range: [-10_000, 10_000],
      put: (row, valueM) => (row.valueM = valueM),
      describe: 'to minus from',
    }),
    SIGMA,
  ],
  distances: [
    ...ENDS,
    column({
      name: 'slope_distance_m',
      kind: 'number',
      isNeeded: true,
      range: [0.1, 100_000],
      put: (row, valueM) => (row.valueM = valueM),
      describe: 'along the line, corrected for the air',
    }),
    SIGMA,
    column({
      name: 'instrument_height_m',
      kind: 'number',
      range: [-10, 100],
      put: (row, upM) => (row.fromUpM = upM),
      describe: 'of the instrument above its mark',
    }),
    column({
      name: 'target_height_m',
      kind: 'number',
      range: [-10, 100],
      put: (row, upM) => (row.toUpM = upM),
      describe: 'of the target above its mark',
    }),
  ],
};

/**
 * Reads levelled height differences (`from_id, to_id, orthometric_height_difference_m, sigma_m`) or distances (`from_id, to_id,
 * slope_distance_m, sigma_m`, and heights of instrument and target above their marks where the distance is between those).
 * Problems: those of the table and its cells; value-out-of-range for a line from a station to itself; nothing is returned when
 * any row is bad.
 */
export function readLines(table: CsvTable, sourceIndex: number, kind: LineTable): Promise<Outcome<readonly LineRow[]>> {
  return readWholeTable<LineRow>(table, {
    columns: COLUMNS[kind],
    blank: (line) => ({
      fromId: '',
      toId: '',
      valueM: NaN,
      sigmaM: NaN,
      fromUpM: 0,
      toUpM: 0,
      place: { sourceIndex, line },
    }),
    check({ fromId, toId }, cells) {
      if (cells.problems.length === 0 && fromId === toId)
        cells.report('value-out-of-range', cells.column('to_id'), `the line goes from ${fromId} to itself`);
    },
  });
}
