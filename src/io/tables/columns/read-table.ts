import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import { failureOf, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { pushAll } from '../../../core/numeric/push-all.js';
import type { Problem } from '../../../records/problem.js';
import type { RowCells } from '../../csv/cell-read.js';
import type { CsvTable } from '../../csv/csv-read.js';
import type { Column } from './column.js';
import type { Draft } from '../../../records/draft.js';
import { columnsNotChosen, mapColumns, tableSpec } from './column-map.js';
import type { ColumnChoice } from './column-map.js';
import { createRowFiller } from './row-reader.js';
import { createRowLoop } from './row-loop.js';

/** A table that is read whole. */
export interface WholeTable<Row> {
  readonly columns: readonly Column<Row>[];
  readonly choices?: readonly ColumnChoice[];
  /** Columns that settle the height. */
  readonly heights?: readonly string[];
  /** A record before its row is laid into it: what is not there is null or empty. */
  readonly blank: (line: number) => Draft<Row>;
  /**
   * Reports what the cells of a row do not say one by one, after they were read, and keeps what they say together. A row in
   * which anything was reported may come a second time: what is remembered is remembered of good rows only.
   */
  readonly check?: (row: Draft<Row>, cells: RowCells) => void;
}

/**
 * Reads a table whole. Returned: its rows, in order. Problems: those of `mapColumns`, of the table, of its cells and of
 * `check`; nothing is returned when any row is bad.
 */
export async function readWholeTable<Row>(
  table: CsvTable,
  whole: WholeTable<Row>,
  mapping: ColumnMapping = {},
): Promise<Outcome<readonly Row[]>> {
  const { source, header, headerLine, dialect } = table;
  const { columns, choices = [], heights = [], blank, check } = whole;
  const mapped = mapColumns(
    { source, header, headerLine, hasHeader: dialect.hasHeader },
    tableSpec(columns, choices, heights),
    mapping,
  );
  if (!mapped.ok) return mapped;
  const left = columnsNotChosen(choices, mapped.value);
  const read = columns.filter(({ name }) => !left.has(name));
  const piecesOf = createRowLoop<Row>(table, {
    map: mapped.value,
    reader(cells) {
      const fill = createRowFiller(read, cells);
      return (line) => {
        const row = blank(line);
        fill(row);
        check?.(row, cells);
        return cells.problems.length > 0 ? null : row;
      };
    },
  });
  const rows: Row[] = [];
  const problems: Problem[] = [];
  const warnings: Problem[] = [...mapped.problems];
  for await (const block of table.blocks()) {
    if (!block.ok) return block;
    for (const piece of piecesOf(block.value)) {
      pushAll(rows, piece.rows);
      for (const rejected of piece.rejected) pushAll(problems, rejected.problems);
      pushAll(warnings, piece.warnings);
    }
  }
  return problems.length > 0 ? failureOf(problems) : success(rows, warnings);
}
