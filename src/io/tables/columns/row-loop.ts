import type { Problem } from '../../../records/problem.js';
import { createCellReader } from '../../csv/cell-read.js';
import type { RowCells } from '../../csv/cell-read.js';
import { rowCount } from '../../csv/csv-block.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import type { CsvDialect } from '../../csv/csv-dialect.js';
import { rowLengthProblem } from '../../csv/csv-read.js';
import { createPlainCellReader } from '../../csv/plain-cell-read.js';
import { plainRow } from '../../csv/plain-records.js';
import { WAY } from '../../host/way.js';
import type { ColumnMap } from './column-map.js';

/** A row that cannot be used, as it stands in the file. */
export interface RejectedRow {
  readonly line: number;
  /** Text of the row without its line end. */
  readonly raw: string;
  readonly problems: readonly Problem[];
}

/** Rows that follow each other, and what could not be read among them. */
export interface RowPiece<Row> {
  readonly rows: readonly Row[];
  readonly rejected: readonly RejectedRow[];
  /** Warnings that cost no row. */
  readonly warnings: readonly Problem[];
  /** Rows left out. */
  readonly skipped: number;
}

/** What is known of a table before its rows. Plain data: it may be sent to another thread. */
export interface TableHead {
  readonly source: string;
  readonly header: readonly string[];
  readonly headerLine: number;
  readonly dialect: CsvDialect;
}

/** Makes a record of the row that is current in the cells; null where a problem was reported. */
export type ReadRow<Row> = (line: number, record: number) => Row | null;

/** How the rows of a table are read. */
export interface RowLoop<Row> {
  readonly map: ColumnMap;
  /** A reader of rows from these cells; called once for cells of text, and once for those in the plain form. */
  readonly reader: (cells: RowCells) => ReadRow<Row>;
  /** Rows handed on at a time, so that few are alive when memory is cleared of dead ones; absent: a whole block. */
  readonly most?: number;
  /** Good and bad rows never share a piece, so that everything is said in the order of the file. */
  readonly isOrderKept?: boolean;
  /** Rows to be left out, by their cells; asked of those that are not in the plain form or could not be read there. */
  readonly isSkipped?: (row: readonly string[]) => boolean;
  /** Turns the place of a problem into the document's own. */
  readonly place?: (problem: Problem) => Problem;
}

const NONE: readonly never[] = Object.freeze([]);
const asItIs = (problem: Problem): Problem => problem;

/**
 * The one loop over the rows of tables. Rows in the plain form are read from their bytes, any other by the general reader;
 * property tests hold the two together.
 * Returned: a function that goes through a block in pieces. Problems: with each rejected row, csv-row-length or those of its
 * cells.
 */
export function createRowLoop<Row>(
  { source, header, dialect }: TableHead,
  loop: RowLoop<Row>,
): (block: CsvBlock) => Generator<RowPiece<Row>> {
  const { map, most = Infinity, isOrderKept = false, isSkipped, place = asItIs } = loop;
  const cells = createCellReader(map, source, dialect.decimalComma);
  const readRow = loop.reader(cells);
  const isPlainDialect = WAY !== 'general' && !dialect.decimalComma && dialect.delimiter.charCodeAt(0) < 0x80;
  const plainCells = createPlainCellReader(map, header.length, dialect.delimiter);
  const readPlainRow = loop.reader(plainCells);
  const placed = (problems: readonly Problem[]): readonly Problem[] =>
    problems.length === 0 ? NONE : problems.map(place);

  return function* piecesOf(block) {
    const { plain, firstRecord, lineOf } = block;
    const count = rowCount(block);
    let rows: Row[] = [];
    let rejected: RejectedRow[] = [];
    let warnings: readonly Problem[] = NONE;
    let skipped = 0;
    for (let index = 0; index < count; index += 1) {
      if (rows.length === most) {
        yield { rows, rejected, warnings, skipped };
        rows = [];
        rejected = [];
        warnings = NONE;
        skipped = 0;
      }
      const line = lineOf(index);
      const record = firstRecord + index;
      if (plain !== null && isPlainDialect && plainCells.start(plain.bytes, plain.startOf(index), plain.endOf(index))) {
        const read = readPlainRow(line, record);
        if (read !== null) {
          if (isOrderKept && rejected.length > 0) {
            yield { rows, rejected, warnings, skipped };
            rejected = [];
            warnings = NONE;
            skipped = 0;
          }
          rows.push(read);
          continue;
        }
      }
      const row = plain === null ? block.rows()[index]! : plainRow(plain, index, dialect.delimiter);
      const wrongLength = row.length === header.length ? null : rowLengthProblem(row, header, { source, line, record });
      if (wrongLength === null && isSkipped?.(row) === true) {
        skipped += 1;
        continue;
      }
      if (wrongLength === null) cells.start(row, line, record);
      const read = wrongLength === null ? readRow(line, record) : null;
      if (isOrderKept && (read === null ? rows : rejected).length > 0) {
        yield { rows, rejected, warnings, skipped };
        rows = [];
        rejected = [];
        warnings = NONE;
        skipped = 0;
      }
      const found = cells.takeWarnings();
      if (found.length > 0) warnings = [...warnings, ...placed(found)];
      if (read === null)
        rejected.push({
          line,
          raw: block.rawOf(index),
          problems: placed(wrongLength === null ? cells.problems : [wrongLength]),
        });
      else rows.push(read);
    }
    yield { rows, rejected, warnings, skipped };
  };
}

/** A row of a block as it stands in the file, by its line; empty where none begins there. */
export function rawOfLine(block: CsvBlock, line: number): string {
  // Lines only grow.
  let low = 0;
  let high = rowCount(block) - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (block.lineOf(middle) < line) low = middle + 1;
    else high = middle;
  }
  return block.lineOf(low) === line ? block.rawOf(low) : '';
}
