import { Buffer } from 'node:buffer';
import { success } from '../../records/outcome.js';
import type { Outcome } from '../../records/outcome.js';
import type { ByteBlock } from './csv-blocks.js';
import type { CsvDialect } from './csv-dialect.js';
import { quotedRows } from './csv-rows.js';
import { scanCsv } from './csv-scan.js';
import { plainRecords, plainRow } from './plain-records.js';
import type { PlainRecords } from './plain-records.js';

/** Rows of text that follow each other in the file. */
export interface CsvBlock {
  /** Decoded when first asked for. A function: a getter made anew with each block would hold its bytes until all memory is gone through. */
  readonly rows: () => readonly (readonly string[])[];
  /** The same rows as bytes, where no quote occurs among them; else null. */
  readonly plain: PlainRecords | null;
  /** Data record number, from 1, of the first row. */
  readonly firstRecord: number;
  /** Position in the block of a row's first byte. */
  readonly startOf: (rowIndex: number) => number;
  /** Line on which a row of this block starts, from 1. */
  readonly lineOf: (rowIndex: number) => number;
  /** The row as it stands in the file, without its line end. */
  readonly rawOf: (rowIndex: number) => string;
}

/** The number of rows, without decoding them. */
export function rowCount(block: CsvBlock): number {
  return block.plain === null ? block.rows().length : block.plain.count;
}

/**
 * The rows of a block of bytes.
 * Given: the block; the number of its first record; how the file is written and its name.
 * Problem: csv-syntax.
 */
export function csvBlock(
  block: ByteBlock,
  firstRecord: number,
  dialect: CsvDialect,
  source: string,
): Outcome<CsvBlock> {
  if (!block.hasQuote) return success(plainBlock(block, firstRecord, dialect));
  const rows = quotedRows(block, dialect, source);
  if (!rows.ok) return rows;
  let located: LocatedRows | null = null;
  const locate = (): LocatedRows => (located ??= locateRows(block, dialect));
  return success({
    rows: () => rows.value,
    plain: null,
    firstRecord,
    startOf: (rowIndex) => locate().startOf(rowIndex),
    lineOf: (rowIndex) => locate().lineOf(rowIndex),
    rawOf: (rowIndex) => locate().rawOf(rowIndex),
  });
}

function plainBlock(block: ByteBlock, firstRecord: number, dialect: CsvDialect): CsvBlock {
  const comment = dialect.comment === null ? null : Buffer.from(dialect.comment, 'utf8');
  const plain = plainRecords(block.bytes, block.firstLine, comment);
  let rows: (readonly string[])[] | null = null;
  return {
    plain,
    rows: () => (rows ??= Array.from({ length: plain.count }, (_, index) => plainRow(plain, index, dialect.delimiter))),
    firstRecord,
    startOf: plain.startOf,
    lineOf: plain.lineOf,
    rawOf: (rowIndex) => block.bytes.toString('utf8', plain.startOf(rowIndex), plain.endOf(rowIndex)),
  };
}

interface LocatedRows {
  readonly startOf: (index: number) => number;
  readonly lineOf: (index: number) => number;
  readonly rawOf: (index: number) => string;
}

/** Finds the records of a block again; done only when a line number or a verbatim row is asked for. */
function locateRows(block: ByteBlock, dialect: CsvDialect): LocatedRows {
  const starts: number[] = [];
  const ends: number[] = [];
  const lines: number[] = [];
  const comment = dialect.comment === null ? null : Buffer.from(dialect.comment, 'utf8');
  scanCsv(block.bytes, block.firstLine, comment, Buffer.from(dialect.delimiter, 'utf8'), true, (start, end, line) => {
    starts.push(start);
    ends.push(end);
    lines.push(line);
  });
  return {
    // On the way of a row: not asked for each cell.
    startOf: (index) => starts[index] ?? 0,
    // On the way of a row: not asked for each cell.
    lineOf: (index) => lines[index] ?? 0,
    // On the way of a row: not asked for each cell.
    rawOf: (index) => block.bytes.toString('utf8', starts[index] ?? 0, ends[index] ?? 0),
  };
}
