import type { ColumnMapping } from '../../../../records/settings/column-reading.js';
import { Buffer } from 'node:buffer';
import { fixPlaces } from '../../../../files/reduction/fix-places.js';
import { csvBlock, rowCount } from '../../../../io/csv/csv-block.js';
import type { CsvWriteOptions } from '../../../../io/csv/csv-write.js';
import { createFixBlockReader } from '../../../../io/tables/fixes/fix-block-read.js';
import type { TableHead } from '../../../../io/tables/columns/row-loop.js';
import type { Solution } from '../../../../records/session.js';
import type { Outcome } from '../../../../records/outcome.js';
import { success } from '../../../../records/outcome.js';
import { createReducer } from '../../../../tasks/reduce/reduce-points.js';
import { createRowGatherer } from './row-gatherer.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import type { TotalsPart } from '../../../../tasks/reduce/totals/reduction-totals.js';
import type { StandRecords } from '../../../../tasks/repeats/stand-records.js';

/** How blocks of fixes become blocks of rows. Plain data: it may be sent to another thread. */
export interface BlockJob {
  readonly head: TableHead;
  readonly mapping: ColumnMapping;
  readonly solution: Solution | null;
  readonly columns: readonly string[];
  readonly csv: CsvWriteOptions;
}

/** Whole lines of the input, UTF-8 without quotes, whose first and last occupation are whole. */
export interface BlockBytes {
  readonly bytes: Uint8Array;
  readonly firstLine: number;
}

/** The rows a block gave, every occupation numbered 1 for the time being. */
export interface BlockRows {
  readonly rows: number;
  /** In the room given, or a larger one in its place. */
  readonly points: Uint8Array<ArrayBuffer>;
  /** Where in `points` the occupation of each point stands. */
  readonly occupationAt: Int32Array<ArrayBuffer>;
  /** Two words for each point: its name for the counter of occupations. */
  readonly hashes: Uint32Array<ArrayBuffer>;
  /** What comparing repeats needs of each. */
  readonly stands: StandRecords;
  /** The memory that the three stand in, to be used again. */
  readonly tables: ArrayBuffer;
  /** The points noted name their place in the block as occupation, from 0. */
  readonly totals: TotalsPart;
}

/** Rows are so many times as long as what they come from, in most files. */
const LENGTHENING = 4;

/** Room that will do for the rows of most blocks; where it does not, a larger one takes its place. */
export function rowsBytes(block: { readonly bytes: Uint8Array }): number {
  return LENGTHENING * block.bytes.length;
}

/** Where a block gives what it gives: its rows, and what stands beside them; a larger piece takes the place of one that is too small. */
export interface BlockMemory {
  readonly rows: ArrayBuffer;
  readonly tables: ArrayBuffer;
}

/** Reduces a block into memory; null where anything in it is worth a message, which only the whole run in order can give. */
export type BlockReducer = (block: BlockBytes, memory: BlockMemory) => BlockRows | null;

/** A reducer of blocks by themselves. Problems: those of the table's columns. */
export function createBlockReducer(setup: ReductionSetup, job: BlockJob): Outcome<BlockReducer> {
  const { head, mapping, solution, columns, csv } = job;
  const reader = createFixBlockReader(head, {
    sourceIndex: 0,
    mapping,
    solution,
    ...fixPlaces(setup),
  });
  if (!reader.ok) return reader;
  const gatherer = createRowGatherer(setup, columns, csv);
  const { totals } = gatherer;
  let isClean = true;
  // One for all blocks: functions made anew with each block would be compiled anew with each.
  const reducer = createReducer(
    setup,
    {
      onPoint(reduced) {
        totals.addOccupation(reduced);
        gatherer.add(reduced.point);
      },
      onSingle(single) {
        totals.addSingle(single);
        gatherer.add(single.point);
      },
      onProblems() {
        isClean = false;
      },
    },
    { next: () => 1 },
  );

  return success(({ bytes, firstLine }, memory) => {
    const block = csvBlock(
      { bytes: Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength), firstLine, hasQuote: false },
      1,
      head.dialect,
      head.source,
    );
    if (!block.ok) return null;
    const rows = rowCount(block.value);
    isClean = true;
    gatherer.start(rows, memory);
    for (const piece of reader.value.fixesOf(block.value)) {
      isClean &&= piece.rejected.length === 0 && piece.warnings.length === 0;
      if (!isClean) break;
      reducer.push(piece.fixes);
    }
    reducer.finish();
    const gathered = gatherer.take();
    return isClean && gatherer.isMarked() ? { rows, ...gathered } : null;
  });
}
