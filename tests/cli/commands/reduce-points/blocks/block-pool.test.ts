import { Buffer } from 'node:buffer';
import { setTimeout } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { createBlockPool } from '../../../../../src/cli/commands/reduce-points/blocks/block-pool.js';
import type { BlockPool, WorkerStart } from '../../../../../src/cli/commands/reduce-points/blocks/block-pool.js';
import {
  createBlockMemories,
  createBlockRooms,
} from '../../../../../src/cli/commands/reduce-points/blocks/block-rooms.js';
import { rowsBytes } from '../../../../../src/cli/commands/reduce-points/blocks/reduce-block.js';
import type { ReducedBlock } from '../../../../../src/cli/commands/reduce-points/blocks/reduce-in-blocks.js';
import type { ByteBlock } from '../../../../../src/io/csv/csv-blocks.js';

const START = {} as unknown as WorkerStart;

/** A script in place of the worker's. */
function script(code: string): URL {
  return new URL(
    `data:text/javascript,${encodeURIComponent(`import { parentPort } from 'node:worker_threads';\n${code}`)}`,
  );
}

const READY = "parentPort.postMessage('ready');";
/** Gives a block back as its rows, 60 ms later. */
const ECHO = `parentPort.on('message', ({ block, memory }) => setTimeout(() => {
  const points = new Uint8Array(memory.rows, 0, block.bytes.length);
  points.set(block.bytes);
  parentPort.postMessage({ rows: { rows: block.firstLine, points }, block }, [block.bytes.buffer, memory.rows]);
}, 60));`;

function block(text: string, firstLine: number): ByteBlock {
  return { bytes: Buffer.from(Uint8Array.from(Buffer.from(text)).buffer), firstLine, hasQuote: false };
}

/** Asks until somebody has room, or fails. */
async function asked(pool: BlockPool, what: ByteBlock): Promise<ReducedBlock> {
  for (let turn = 0; turn < 2000; turn += 1) {
    const answer = pool.ask(what);
    if (answer !== null) return answer;
    await setTimeout(5);
  }
  throw new Error('nobody had room');
}

describe('createBlockPool', () => {
  it('gives a thread two blocks once it has started, and no third before one is answered', async () => {
    const pool = createBlockPool(1, START, createBlockMemories(), script(READY + ECHO));
    try {
      expect(pool.ask(block('too early', 1))).toBeNull();
      const first = asked(pool, block('first', 7));
      await setTimeout(0);
      await first;
      const second = pool.ask(block('second block', 8));
      const third = pool.ask(block('third', 9));
      expect(pool.ask(block('no room', 10))).toBeNull();
      expect(Buffer.from((await second)?.rows?.points ?? []).toString()).toBe('second block');
      expect((await second)?.block.bytes.toString()).toBe('second block');
      expect((await third)?.rows?.rows).toBe(9);
    } finally {
      await pool.close();
    }
  });

  it('gives a block to the thread with least to do', async () => {
    // Rows counted are the number of the thread.
    const pool = createBlockPool(
      2,
      START,
      createBlockMemories(),
      script(`import { threadId } from 'node:worker_threads';\n${READY}${ECHO.replace('block.firstLine', 'threadId')}`),
    );
    try {
      const seen = new Set<number | undefined>();
      while (seen.size < 2) {
        const both = [asked(pool, block('x', 1)), asked(pool, block('x', 2))];
        for (const answer of both) seen.add((await answer).rows?.rows);
      }
      const [one, other, third, fourth] = [1, 2, 3, 4].map((line) => pool.ask(block('x', line)));
      expect(pool.ask(block('x', 5))).toBeNull();
      expect((await one)?.rows?.rows).not.toBe((await other)?.rows?.rows);
      expect((await third)?.rows?.rows).not.toBe((await fourth)?.rows?.rows);
    } finally {
      await pool.close();
    }
  });

  it.each([
    [
      'throws',
      "parentPort.on('message', () => { throw new Error('broken within'); });",
      /a worker failed: .*broken within/su,
    ],
    ['ends', "parentPort.on('message', () => process.exit(3));", /a worker ended with 3 before it answered/u],
  ])('rejects what a thread that %s had been asked, and what it is asked later', async (_what, code, expected) => {
    const pool = createBlockPool(1, START, createBlockMemories(), script(READY + code));
    try {
      await expect(asked(pool, block('x', 1))).rejects.toThrow(expected);
      await expect(asked(pool, block('x', 2))).rejects.toThrow(expected);
    } finally {
      await pool.close();
    }
  });

  it('says so where a thread fails before it has started', async () => {
    const pool = createBlockPool(1, START, createBlockMemories(), script("throw new Error('cannot load');"));
    try {
      await expect(asked(pool, block('x', 1))).rejects.toThrow(/a worker failed: .*cannot load/su);
    } finally {
      await pool.close();
    }
  });

  it('has no room without threads', async () => {
    const pool = createBlockPool(0, START, createBlockMemories());
    expect(pool.ask(block('x', 1))).toBeNull();
    await pool.close();
  });
});

describe('createBlockRooms', () => {
  it('gives memory out again where it is large enough', () => {
    const rooms = createBlockRooms();
    const room = rooms.take(rowsBytes(block('a row of text', 1)));
    expect(room.byteLength).toBeGreaterThanOrEqual(52);
    rooms.giveBack(room);
    expect(rooms.take(40)).toBe(room);
    rooms.giveBack(room);
    expect(rooms.take(1000).byteLength).toBeGreaterThanOrEqual(1000);
  });
});

describe('createBlockMemories', () => {
  it('gives rows and tables out again, each for themselves', () => {
    const memories = createBlockMemories();
    const first = memories.take(40);
    memories.giveBackTables(first.tables);
    const second = memories.take(40);
    expect(second.tables).toBe(first.tables);
    expect(second.rows).not.toBe(first.rows);
    memories.giveBackRows(first.rows);
    expect(memories.take(40).rows).toBe(first.rows);
  });
});
