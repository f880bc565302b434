import type { Fix } from '../../../records/points/fix.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Problem } from '../../../records/problem.js';
import { createCellReader } from '../../csv/cell-read.js';
import { mapColumns } from '../columns/column-map.js';
import { rowCount } from '../../csv/csv-block.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import type { CsvDialect } from '../../csv/csv-dialect.js';
import { rowLengthProblem } from '../../csv/csv-read.js';
import { FIX_TABLE } from './fix-columns.js';
import { createFixRow, passingColumns } from './fix-row.js';
import type { FixRowOptions } from './fix-row.js';
import { createPlainCellReader } from '../../csv/plain-cell-read.js';
import { plainRow } from '../../csv/plain-records.js';

/** A row that cannot be used, as it stands in the file. */
export interface RejectedRow {
  readonly line: number;
  /** Text of the row without its line end. */
  readonly raw: string;
  readonly problems: readonly Problem[];
}

/** Fixes that follow each other in one input, and what could not be read among them. */
export interface FixBlock {
  readonly fixes: readonly Fix[];
  readonly rejected: readonly RejectedRow[];
  /** Warnings and notes that cost no row. */
  readonly warnings: readonly Problem[];
  /** The same function for all pieces of one run of rows. */
  readonly rawOf: RawOf;
}

/** The row of a fix as it stands in the file, for a fix refused later; empty where it is not among the rows this knows of. */
export type RawOf = (fix: Fix) => string;

/** What is known of a table before its rows. Plain data: it may be sent to another thread. */
export interface FixTableHead {
  readonly source: string;
  readonly header: readonly string[];
  readonly headerLine: number;
  readonly dialect: CsvDialect;
}

export interface FixReadOptions extends FixRowOptions {
  /** Our column name to the file's header or position. */
  readonly mapping: Readonly<Record<string, string>>;
}

/** Reads the fixes of blocks of rows. */
export interface FixBlockReader {
  readonly passThroughNames: readonly string[];
  /** Position of the column of point names, from 0. */
  readonly idIndex: number;
  /** Whether the table has a column, by our name. */
  readonly has: (column: string) => boolean;
  /** In pieces of good rows and pieces of bad rows, in the order of the file. */
  readonly fixesOf: (block: CsvBlock) => Generator<FixBlock>;
}

/** Fixes are handed on so many at a time, so that few are alive when memory is cleared of dead ones. */
const MOST_FIXES = 16;

/**
 * A reader of the fixes in the rows of a table. Rows in the plain form are read from their bytes, any other by the
 * general reader; a property test holds the two together.
 * Problems: those of `mapColumns`; with each rejected row, those of its cells.
 */
export function createFixBlockReader(head: FixTableHead, options: FixReadOptions): Outcome<FixBlockReader> {
  const { source, header, headerLine, dialect } = head;
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, FIX_TABLE, options.mapping);
  if (!mapped.ok) return mapped;
  const map = mapped.value;
  const cells = createCellReader(map, source, dialect.decimalComma);
  const readFix = createFixRow(map, cells, options);
  const isPlainDialect = !dialect.decimalComma && dialect.delimiter.charCodeAt(0) < 0x80;
  const plainCells = createPlainCellReader(map, header.length, dialect.delimiter);
  const readPlainFix = createFixRow(map, plainCells, options);

  function* fixesOf(block: CsvBlock): Generator<FixBlock> {
    const { plain, firstRecord, lineOf } = block;
    const rawOf: RawOf = (fix) => rawOfFix(block, fix, options.sourceIndex);
    const rows = plain === null ? block.rows : null;
    const count = rowCount(block);
    let fixes: Fix[] = [];
    let rejected: RejectedRow[] = [];
    let warnings: readonly Problem[] = [];
    for (let index = 0; index < count; index += 1) {
      if (fixes.length === MOST_FIXES) {
        yield { fixes, rejected, warnings, rawOf };
        fixes = [];
        warnings = [];
      }
      const line = lineOf(index);
      if (plain !== null && isPlainDialect && plainCells.start(plain.bytes, plain.startOf(index), plain.endOf(index))) {
        const fix = readPlainFix(line);
        if (fix !== null) {
          if (rejected.length > 0) {
            yield { fixes, rejected, warnings, rawOf };
            rejected = [];
            warnings = [];
          }
          fixes.push(fix);
          continue;
        }
      }
      const row = plain === null ? (rows?.[index] ?? []) : plainRow(plain, index, dialect.delimiter);
      const record = firstRecord + index;
      const wrongLength = row.length === header.length ? null : rowLengthProblem(row, header, { source, line, record });
      if (wrongLength === null) cells.start(row, line, record);
      const fix = wrongLength === null ? readFix(line) : null;
      // Good and bad rows never share a piece, so that everything is said in the order of the file.
      if ((fix === null ? fixes : rejected).length > 0) {
        yield { fixes, rejected, warnings, rawOf };
        fixes = [];
        rejected = [];
        warnings = [];
      }
      const found = cells.takeWarnings();
      if (found.length > 0) warnings = [...warnings, ...found];
      if (fix === null)
        rejected.push({
          line,
          raw: block.rawOf(index),
          problems: wrongLength === null ? [...cells.problems] : [wrongLength],
        });
      else fixes.push(fix);
    }
    yield { fixes, rejected, warnings, rawOf };
  }

  return success(
    {
      passThroughNames: passingColumns(map).map((column) => column.name),
      idIndex: map.index('point_id'),
      has: (column) => map.index(column) >= 0,
      fixesOf,
    },
    mapped.problems,
  );
}

function rawOfFix(block: CsvBlock, { place }: Fix, sourceIndex: number): string {
  if (place.sourceIndex !== sourceIndex) return '';
  // Lines only grow.
  let low = 0;
  let high = rowCount(block) - 1;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (block.lineOf(middle) < place.line) low = middle + 1;
    else high = middle;
  }
  return block.lineOf(low) === place.line ? block.rawOf(low) : '';
}
