import { rowCount } from '../../../../io/csv/csv-block.js';
import type { ByteBlock } from '../../../../io/csv/csv-blocks.js';
import type { PlaceBlock, PlaceInput } from '../../../../io/tables/points/place-input.js';
import { success } from '../../../../records/outcome.js';
import type { Failure, Outcome } from '../../../../records/outcome.js';
import type { QuietBlocks, QuietRows } from './quiet-blocks.js';

/** What comes next of a file: rows that are written already, or rows that are still to be carried. */
export type NextPlaces =
  { readonly written: QuietRows; readonly places: null } | { readonly written: null; readonly places: PlaceBlock };

/** A block that is under way. */
interface BlockAhead {
  readonly block: ByteBlock;
  readonly written: Promise<QuietRows | null>;
}

/**
 * The rows of a file in their order. Blocks of plain rows of which nothing is to be said are carried by `quiet`; the rows of others are
 * handed on. Null: all are handed on. A failure is the last item.
 */
export async function* placesInOrder(
  input: PlaceInput,
  quiet: QuietBlocks | null,
): AsyncGenerator<Outcome<NextPlaces>> {
  const { bytes } = input;
  if (bytes === null || quiet === null) {
    for await (const block of input.blocks()) yield block.ok ? handedOn(block.value) : block;
    return;
  }
  const stream = bytes.byteBlocks('threads');
  const ahead: BlockAhead[] = [];
  let failed: Failure | null = null;
  let isOver = false;
  let rows = 0;
  try {
    for (;;) {
      while (!isOver && ahead.length < quiet.depth) {
        const item = await stream.next();
        if (item.done === true || !item.value.ok) {
          isOver = true;
          if (item.done !== true && !item.value.ok) failed = item.value;
        } else ahead.push(await begin(item.value.value, quiet));
      }
      const next = ahead.shift();
      if (next === undefined) break;
      const written = await next.written;
      if (written !== null) {
        rows += written.rows;
        yield success({ written, places: null });
        quiet.release(written);
        continue;
      }
      const located = bytes.locate(next.block, rows + 1);
      if (!located.ok) {
        yield located;
        return;
      }
      rows += rowCount(located.value);
      for (const places of bytes.placesOf(located.value, bytes.plainOf(next.block))) yield handedOn(places);
    }
    if (failed !== null) yield failed;
    else if (rows === 0) yield bytes.withoutRows();
  } finally {
    await stream.return(undefined);
    await quiet.close();
  }
}

async function begin(block: ByteBlock, quiet: QuietBlocks): Promise<BlockAhead> {
  const written = quiet.carry(block);
  // One that fails while nobody waits for it yet is met when its turn comes.
  written.catch(() => undefined);
  await quiet.pause();
  return { block, written };
}

function handedOn(places: PlaceBlock): Outcome<NextPlaces> {
  return success({ written: null, places });
}
