import { setImmediate } from 'node:timers/promises';
import type { FixBlock, FixBytes } from '../../../../io/tables/fixes/fixes-read.js';
import { createIdRunCutter } from '../../../../io/csv/id-run-cutter.js';
import type { ByteBlock } from '../../../../io/csv/csv-blocks.js';
import { success } from '../../../../records/outcome.js';
import type { Outcome } from '../../../../records/outcome.js';
import type { BlockRooms } from './block-rooms.js';
import type { BlockRows } from './reduce-block.js';

/** How blocks are reduced apart from each other, and where their rows go. */
export interface BlockStage {
  /** Has a block reduced elsewhere, where its bytes go too until they come back; null where nobody has room for it. */
  readonly ask: (block: ByteBlock) => Promise<ReducedBlock> | null;
  /** Reduces a block here and now; null where only the whole run in order can. */
  readonly reduce: (block: ByteBlock) => BlockRows | null;
  /** Blocks under way at most. */
  readonly depth: number;
  /** Takes the rows of a block; blocks come in the order of the file. */
  readonly write: (rows: BlockRows) => Promise<void>;
  /** Memory of blocks: taken as they are read, given back when their rows are written. */
  readonly memory: BlockRooms;
}

/** A block and what it gave; null where only the whole run in order can reduce it. */
export interface ReducedBlock {
  readonly block: ByteBlock;
  readonly rows: BlockRows | null;
}

/**
 * Reduces the blocks of an input apart from each other as long as nothing in them depends on their neighbours, and gives
 * back what is left to be reduced in order: nothing, or everything from the block before the first that gave a message.
 *
 * A block stands for itself when every row of it and of the block before it was reduced without a message, and another
 * point begins with it: then the last occupation before it is whole. So the rows of a block are let go only when the
 * next block has proved clean too.
 */
export async function reduceInBlocks(input: FixBytes, stage: BlockStage): Promise<AsyncGenerator<Outcome<FixBlock>>> {
  const { byteBlocks, idIndex, head } = input;
  const cutter = createIdRunCutter(byteBlocks('threads'), idIndex, head.dialect.delimiter, stage.memory.take);
  const waiting: Promise<ReducedBlock>[] = [];
  let held: { readonly block: ByteBlock; readonly rows: BlockRows } | null = null;
  let rowsWritten = 0;
  let isOver = false;

  async function letGo(): Promise<void> {
    if (held === null) return;
    const { block, rows } = held;
    held = null;
    rowsWritten += rows.rows;
    await stage.write(rows);
    stage.memory.giveBack(block.bytes.buffer as ArrayBuffer);
  }

  async function* unfinished(left: readonly ReducedBlock[]): AsyncGenerator<Outcome<ByteBlock>> {
    if (held !== null) yield success(held.block);
    for (const { block } of left) yield success(block);
    yield* cutter.rest();
  }

  while (!isOver || waiting.length > 0) {
    while (!isOver && waiting.length < stage.depth) {
      const block = await cutter.next();
      if (block === null) isOver = true;
      else {
        const asked = stage.ask(block);
        // One that fails while nobody waits for it yet is met when its turn comes.
        asked?.catch(() => undefined);
        waiting.push(asked ?? Promise.resolve({ block, rows: stage.reduce(block) }));
        // The answers of others arrive between two blocks reduced here.
        if (asked === null) await setImmediate();
      }
    }
    const next = waiting[0];
    if (next === undefined) break;
    const { block, rows } = await next;
    // Those still elsewhere come back first.
    if (rows === null) return input.fixesOf(unfinished(await Promise.all(waiting)), rowsWritten + 1);
    void waiting.shift();
    await letGo();
    held = { block, rows };
  }
  // The last block is let go only when nothing is left: what remains may go on with its last point.
  const remaining = cutter.rest();
  const first = await remaining.next();
  if (first.done === true) {
    await letGo();
    return input.fixesOf(noBlocks(), rowsWritten + 1);
  }
  return input.fixesOf(chained(held, first.value, remaining), rowsWritten + 1);
}

async function* noBlocks(): AsyncGenerator<Outcome<ByteBlock>> {
  // Nothing is left.
}

async function* chained(
  held: { readonly block: ByteBlock } | null,
  first: Outcome<ByteBlock>,
  remaining: AsyncGenerator<Outcome<ByteBlock>>,
): AsyncGenerator<Outcome<ByteBlock>> {
  if (held !== null) yield success(held.block);
  yield first;
  yield* remaining;
}
