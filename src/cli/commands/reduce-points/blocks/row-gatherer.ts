import { Buffer } from 'node:buffer';
import type { CsvWriteOptions } from '../../../../io/csv/csv-write.js';
import { createPointRowWriter } from '../../../../io/tables/points/point-row-write.js';
import type { ReducedPoint } from '../../../../records/points/reduced-point.js';
import { hashPointId } from '../../../../tasks/reduce/occupations/occupation-counter.js';
import type { ReductionSetup } from '../../../../tasks/reduce/reduction-setup.js';
import { createReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';
import type { ReductionTotals } from '../../../../tasks/reduce/totals/reduction-totals.js';
import { createStandRecorder, STAND_BYTES, standRecordsIn } from '../../../../tasks/repeats/stand-records.js';
import type { BlockMemory, BlockRows } from './reduce-block.js';

/** Gathers the points of a block as rows. */
export interface RowGatherer {
  /** Counts what is reduced; a point that is added is counted here. */
  readonly totals: ReductionTotals;
  /** Begins a block of so many rows at most, which are written into the memory. */
  readonly start: (rows: number, memory: BlockMemory) => void;
  readonly add: (point: ReducedPoint) => void;
  /** Whether the occupation of every point added has its place in the rows. */
  readonly isMarked: () => boolean;
  readonly take: () => Omit<BlockRows, 'rows'>;
}

/** A gatherer of rows of these columns. */
export function createRowGatherer(
  setup: ReductionSetup,
  columns: readonly string[],
  csv: CsvWriteOptions,
): RowGatherer {
  const writer = createPointRowWriter(columns, csv);
  const totals = createReductionTotals();
  const recorder = createStandRecorder(setup);
  let tables = new ArrayBuffer(0);
  let occupationAt = new Int32Array(0);
  let hashes = new Uint32Array(0);
  let points = 0;
  let isMarked = true;
  return {
    totals,
    start(rows, memory) {
      const bytes = rows * (STAND_BYTES + 12);
      // As much again as a block of this length needs, as blocks are not all of as many rows.
      tables = memory.tables.byteLength < bytes ? new ArrayBuffer(2 * bytes) : memory.tables;
      recorder.start(rows, standRecordsIn(tables, rows));
      occupationAt = new Int32Array(tables, rows * STAND_BYTES, rows);
      hashes = new Uint32Array(tables, rows * (STAND_BYTES + 4), 2 * rows);
      points = 0;
      isMarked = true;
      writer.into(Buffer.from(memory.rows));
    },
    add(point) {
      totals.addPoint(point, points);
      writer.add(point);
      occupationAt[points] = writer.lastMarkedAt();
      isMarked &&= writer.lastMarkedAt() >= 0;
      hashPointId(point.pointId, hashes, 2 * points);
      recorder.add(point);
      points += 1;
    },
    isMarked: () => isMarked,
    take() {
      const written = writer.take() as Buffer<ArrayBuffer>;
      return {
        points: new Uint8Array(written.buffer, written.byteOffset, written.byteLength),
        occupationAt: occupationAt.subarray(0, points),
        hashes: hashes.subarray(0, 2 * points),
        stands: recorder.take(),
        tables,
        totals: totals.take(),
      };
    },
  };
}
