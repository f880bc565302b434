import type { ColumnMapping } from '../../../records/settings/column-reading.js';
import type { Solution } from '../../../records/session.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { csvBlock, rowCount } from '../../csv/csv-block.js';
import type { BlockUse, ByteBlock } from '../../csv/csv-blocks.js';
import { withoutRows } from '../../csv/csv-read.js';
import type { CsvTable } from '../../csv/csv-read.js';
import { createFixBlockReader } from './fix-block-read.js';
import type { FixBlock, FixBlockReader, FixReadOptions } from './fix-block-read.js';
import type { TableHead } from '../columns/row-loop.js';

export type { FixBlock, FixReadOptions, RawOf } from './fix-block-read.js';

/** The fixes of one input. CSV, GeoJSON and NMEA inputs all end in this. */
export interface FixInput {
  /** Names of the columns that pass through, in the order of `Fix.passThrough`. */
  readonly passThroughNames: readonly string[];
  /** Whether rows may give a value themselves, by our name of its column. */
  readonly has: (column: string) => boolean;
  /** The header as it stands in the file, for the file of rejected rows; null where there is none. */
  readonly headerRaw: string | null;
  /** A failure is the last item. May be read once. */
  readonly blocks: () => AsyncGenerator<Outcome<FixBlock>>;
  /** The input as blocks of bytes, to be read in place of `blocks`; null where it is no table of text. */
  readonly bytes: FixBytes | null;
}

/** A table of fixes as blocks of bytes. */
export interface FixBytes {
  readonly head: TableHead;
  readonly mapping: ColumnMapping;
  readonly solution: Solution | null;
  readonly idIndex: number;
  readonly byteBlocks: (use?: BlockUse) => AsyncGenerator<Outcome<ByteBlock>>;
  /** The fixes of blocks, from the given record number on; csv-empty where that is 1 and no row comes. */
  readonly fixesOf: (
    blocks: AsyncIterable<Outcome<ByteBlock>>,
    firstRecord: number,
  ) => AsyncGenerator<Outcome<FixBlock>>;
}

/**
 * Reads fixes from a table (the columns are in docs/file-formats.md).
 * Problems: those of `mapColumns`; with the blocks, those of the table; with each rejected row, those of its cells.
 */
export function readFixes(table: CsvTable, options: FixReadOptions): Outcome<FixInput> {
  const { source, header, headerLine, headerRaw, dialect, byteBlocks } = table;
  const head: TableHead = { source, header, headerLine, dialect };
  const made = createFixBlockReader(head, options);
  if (!made.ok) return made;
  const reader = made.value;
  const { passThroughNames, idIndex, has } = reader;

  async function* fromRows(): AsyncGenerator<Outcome<FixBlock>> {
    for await (const block of table.blocks()) {
      if (!block.ok) {
        yield block;
        return;
      }
      for (const piece of reader.fixesOf(block.value)) yield success(piece);
    }
  }

  const bytes =
    byteBlocks === null
      ? null
      : {
          head,
          mapping: options.mapping,
          solution: options.solution ?? null,
          idIndex,
          byteBlocks,
          fixesOf: fixesOfBytes(head, reader),
        };
  return success({ passThroughNames, has, headerRaw, blocks: fromRows, bytes }, made.problems);
}

function fixesOfBytes({ source, dialect }: TableHead, reader: FixBlockReader): FixBytes['fixesOf'] {
  return async function* fixesOf(blocks, firstRecord) {
    let record = firstRecord;
    for await (const block of blocks) {
      const rows = block.ok ? csvBlock(block.value, record, dialect, source) : block;
      if (!rows.ok) {
        yield rows;
        return;
      }
      record += rowCount(rows.value);
      for (const piece of reader.fixesOf(rows.value)) yield success(piece);
    }
    if (record === 1) yield withoutRows(source);
  };
}
