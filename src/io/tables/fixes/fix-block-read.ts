import type { Fix } from '../../../records/points/fix.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { Problem } from '../../../records/problem.js';
import type { CsvBlock } from '../../csv/csv-block.js';
import { mapColumns } from '../columns/column-map.js';
import { createRowLoop, rawOfLine } from '../columns/row-loop.js';
import type { RejectedRow, TableHead } from '../columns/row-loop.js';
import { FIX_TABLE } from './fix-columns.js';
import { createFixRow, passingColumns } from './fix-row.js';
import type { FixRowOptions } from './fix-row.js';

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
export function createFixBlockReader(head: TableHead, options: FixReadOptions): Outcome<FixBlockReader> {
  const { source, header, headerLine, dialect } = head;
  const mapped = mapColumns({ source, header, headerLine, hasHeader: dialect.hasHeader }, FIX_TABLE, options.mapping);
  if (!mapped.ok) return mapped;
  const map = mapped.value;
  const piecesOf = createRowLoop<Fix>(head, {
    map,
    most: MOST_FIXES,
    isOrderKept: true,
    reader: (cells) => createFixRow(map, cells, options),
  });

  function* fixesOf(block: CsvBlock): Generator<FixBlock> {
    const rawOf: RawOf = ({ place }) => (place.sourceIndex === options.sourceIndex ? rawOfLine(block, place.line) : '');
    for (const { rows, rejected, warnings } of piecesOf(block)) yield { fixes: rows, rejected, warnings, rawOf };
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
