import { setImmediate } from 'node:timers/promises';
import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';
import { expect, it } from 'vitest';
import { DEFAULT_BLOCK_SIZES } from '../../../src/io/csv/csv-blocks.js';
import { DEFAULT_DIALECT } from '../../../src/io/csv/csv-dialect.js';
import { readCsv } from '../../../src/io/csv/csv-read.js';
import { createIdRunCutter } from '../../../src/io/csv/id-run-cutter.js';
import { stdinSource, value } from '../support.js';

setFlagsFromString('--expose-gc');
/** Clears what is young, as the engine does many times a second. */
const clearYoung = runInNewContext('gc') as (how: { readonly type: 'minor' }) => void;

const ROWS = 40_000;
const TEXT = `point_id,latitude_deg\n${Array.from({ length: ROWS }, (_, index) => `P${String(index)},${'-31.'.padEnd(60, '5')}`).join('\n')}\n`;

/** Bytes of arrays that are still held, once what was freed aside has been counted. */
async function heldBytes(): Promise<number> {
  for (let time = 0; time < 20; time += 1) {
    clearYoung({ type: 'minor' });
    await setImmediate();
  }
  return process.memoryUsage().arrayBuffers;
}

// The source is the engine's own count: `arrayBuffers` of process.memoryUsage(). A getter made anew with each block is kept by the shape of
// the object that it belongs to, which only a full clearing looks at: so were all bytes of a file.
it('lets the bytes of a block go when what is young is cleared', async () => {
  const source = await stdinSource(TEXT, 1 << 15);
  const table = value(await readCsv(source, DEFAULT_DIALECT, { ...DEFAULT_BLOCK_SIZES, blockBytes: 1 << 15 }));
  const before = await heldBytes();
  let rows = 0;
  for await (const block of table.blocks()) {
    rows += value(block).plain?.count ?? Number.NaN;
    await setImmediate();
    clearYoung({ type: 'minor' });
  }
  expect(rows).toBe(ROWS);
  expect(TEXT.length).toBeGreaterThan(2_000_000);
  expect((await heldBytes()) - before).toBeLessThan(700_000);
});

it('hands blocks of the size a thread is asked for to threads, from smaller ones', async () => {
  const source = await stdinSource(TEXT, 1 << 15);
  const table = value(await readCsv(source, DEFAULT_DIALECT, { ...DEFAULT_BLOCK_SIZES, blockBytes: 1 << 15 }));
  const stream = table.byteBlocks?.('threads');
  if (stream === undefined) throw new Error('a table of text has bytes');
  const cutter = createIdRunCutter(stream, 0, ',', (bytes) => new ArrayBuffer(bytes));
  const sizes: number[] = [];
  const texts: string[] = [];
  for (let block = await cutter.next(); block !== null; block = await cutter.next()) {
    sizes.push(block.bytes.length);
    texts.push(block.bytes.toString('latin1'));
  }
  for await (const left of cutter.rest()) texts.push(value(left).bytes.toString('latin1'));
  // Whatever is cut, all rows come, once and in order.
  expect(`point_id,latitude_deg\n${texts.join('')}`).toBe(TEXT);
  // The first was read for its header, before anybody asked; the last two are what is left.
  expect(Math.min(...sizes.slice(1, -2))).toBeGreaterThan((1 << 17) - 200);
  expect(Math.max(...sizes)).toBeLessThan(3 << 16);
});
