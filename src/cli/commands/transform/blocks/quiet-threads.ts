import { Buffer } from 'node:buffer';
import { setImmediate } from 'node:timers/promises';
import { PROGRAM_FILES } from '../../../../io/host/program-files.js';
import { createThreadPool } from '../../../../io/host/thread-pool.js';
import type { ThreadScript } from '../../../../io/host/thread-pool.js';
import type { TableHead } from '../../../../io/tables/columns/row-loop.js';
import type { Invocation } from '../../../shell/command-spec.js';
import type { QuietBlock, QuietBlocks, QuietRows } from './quiet-blocks.js';

/** What a thread starts from. */
export interface ThreadStart {
  readonly invocation: Invocation;
  readonly cwd: string;
  readonly head: TableHead;
}

/** Memory that both threads see: a block, and where its rows go. */
export interface ThreadQuestion {
  readonly block: SharedArrayBuffer;
  readonly blockBytes: number;
  readonly firstLine: number;
  readonly rows: SharedArrayBuffer;
}

/** How many rows there are and how many bytes, in `rows` of the question or larger memory in its place; null: see `QuietBlock`. */
export interface ThreadAnswer {
  readonly count: number;
  readonly bytes: number;
  readonly rows: SharedArrayBuffer;
}

const SCRIPT: ThreadScript = PROGRAM_FILES.isPacked
  ? { text: PROGRAM_FILES.built('transform-worker.cjs').toString('utf8') }
  : new URL('./transform-worker.js', import.meta.url);

/** Memory is so much larger than asked for, as blocks and their rows are not all of one length. */
const MARGIN = 1.25;

/** Memory for a block and its rows, used again and again. */
interface Slot {
  block: SharedArrayBuffer;
  rows: SharedArrayBuffer;
}

/** Blocks carried by so many threads beside this one, which carries those that no thread has room for. */
export function quietThreads(
  count: number,
  start: ThreadStart,
  here: QuietBlock,
  script: ThreadScript = SCRIPT,
): QuietBlocks {
  const pool = createThreadPool<ThreadQuestion, ThreadAnswer | null>(count, start, script);
  const free: Slot[] = [];
  const held = new Map<QuietRows, Slot>();
  const take = (): Slot => free.pop() ?? { block: memory(0), rows: memory(0) };

  /** The rows in the memory of the slot, until they are released. */
  function keep(slot: Slot, rows: number, bytes: number): QuietRows {
    const kept = { rows, bytes: new Uint8Array(slot.rows, 0, bytes) };
    held.set(kept, slot);
    return kept;
  }

  return {
    depth: DEPTH * (count + 1),
    async carry(block) {
      const { bytes, firstLine, hasQuote } = block;
      if (hasQuote) return null;
      const slot = take();
      const asked = pool.ask(() => {
        if (slot.block.byteLength < bytes.length) slot.block = memory(bytes.length);
        new Uint8Array(slot.block).set(bytes);
        return {
          question: { block: slot.block, blockBytes: bytes.length, firstLine, rows: slot.rows },
          moved: [],
        };
      });
      if (asked !== null) {
        const answer = await asked;
        if (answer !== null) {
          slot.rows = answer.rows;
          return keep(slot, answer.count, answer.bytes);
        }
      } else {
        const written = here(block);
        if (written !== null) {
          slot.rows = roomFor(written.bytes, slot.rows);
          return keep(slot, written.rows, written.bytes.length);
        }
      }
      free.push(slot);
      return null;
    },
    pause: () => setImmediate(),
    release(rows) {
      const slot = held.get(rows);
      held.delete(rows);
      if (slot !== undefined) free.push(slot);
    },
    close: pool.close,
  };
}

/** Blocks under way at most, for each thread. */
const DEPTH = 3;

/** The bytes laid into memory, or into larger memory where they do not fit. */
export function roomFor(bytes: Uint8Array, room: SharedArrayBuffer): SharedArrayBuffer {
  const taken = room.byteLength >= bytes.length ? room : memory(bytes.length);
  new Uint8Array(taken).set(bytes);
  return taken;
}

function memory(bytes: number): SharedArrayBuffer {
  return new SharedArrayBuffer(Math.ceil(MARGIN * bytes));
}

/** A block as it lies in shared memory. */
export function sharedBlock({ block, blockBytes, firstLine }: ThreadQuestion): Parameters<QuietBlock>[0] {
  return { bytes: Buffer.from(block, 0, blockBytes), firstLine, hasQuote: false };
}
