import type { ByteBlock } from '../../../../io/csv/csv-blocks.js';
import type { PlainPlaceReader } from '../../../../io/tables/points/plain-places.js';
import type { TransformRun } from '../../../../tasks/transform/transform-run.js';
import type { PlaceWriter } from '../place-writer.js';

/** Rows of a block as they are written. */
export interface QuietRows {
  readonly rows: number;
  readonly bytes: Uint8Array;
}

/**
 * Carries and writes the rows of a block, which hold until the next; null where something is to be said of one of them or to be kept, or
 * the block is not plain: then nothing was done.
 */
export type QuietBlock = (block: ByteBlock) => QuietRows | null;

/** Blocks of which nothing is to be said, carried here or by threads. */
export interface QuietBlocks {
  /** Blocks under way at most. */
  readonly depth: number;
  /** As `QuietBlock`, but the rows hold until they are released. */
  readonly carry: (block: ByteBlock) => Promise<QuietRows | null>;
  /** Lets the answers of threads come in. */
  readonly pause: () => Promise<void>;
  readonly release: (rows: QuietRows) => void;
  readonly close: () => Promise<void>;
}

/** Null: there are no such blocks in this run, none of its input, or the writer takes no bytes. */
export function createQuietBlock(
  plainOf: PlainPlaceReader | null,
  { carryQuietly }: Pick<TransformRun, 'carryQuietly'>,
  writer: PlaceWriter,
): QuietBlock | null {
  const { takeBytes } = writer;
  if (plainOf === null || carryQuietly === null || takeBytes === null) return null;
  return (block) => {
    const places = plainOf(block);
    if (places === null) return null;
    const { length, carried } = places;
    for (let index = 0; index < length; index += 1) {
      const row = places.at(index);
      const point = row === undefined ? null : carryQuietly(row);
      if (row === undefined || point === null) {
        // What was written of the block is dropped.
        takeBytes();
        return null;
      }
      writer.add(row, point, carried);
    }
    return { rows: length, bytes: takeBytes() };
  };
}

/** All of them carried here, one at a time. */
export function quietHere(carry: QuietBlock): QuietBlocks {
  const nothing = Promise.resolve();
  return {
    depth: 1,
    carry: (block) => Promise.resolve(carry(block)),
    pause: () => nothing,
    release: () => undefined,
    close: () => nothing,
  };
}
