import { Buffer } from 'node:buffer';
import type { FileHandle } from 'node:fs/promises';
import { setImmediate } from 'node:timers/promises';
import { describe, expect, it } from 'vitest';
import { createWriteBehind } from '../../../../src/io/bytes/output/write-behind.js';
import { seededRandom } from '../../../support/seeded-random.js';

/** A file in memory that takes at most so many bytes at once, later than it is asked; `refuseFrom`: the write of this number and all after fail. */
function slowFile(atOnce: number, refuseFrom = Infinity) {
  const pieces: Buffer[] = [];
  let [writes, underWay, most] = [0, 0, 0];
  const write = async (bytes: Uint8Array, offset: number, length: number) => {
    underWay += 1;
    most = Math.max(most, underWay);
    await setImmediate();
    underWay -= 1;
    writes += 1;
    if (writes >= refuseFrom) throw Object.assign(new Error('no space'), { code: 'ENOSPC' });
    const bytesWritten = Math.min(length, atOnce);
    pieces.push(Buffer.from(bytes.subarray(offset, offset + bytesWritten)));
    return { bytesWritten };
  };
  return { handle: { write } as unknown as FileHandle, content: () => Buffer.concat(pieces), most: () => most };
}

describe('a file written behind', () => {
  it.each([100_000, 1 << 18, 1 << 20])(
    'holds all bytes in their order, though their memory is used again (%i at once)',
    async (atOnce) => {
      const random = seededRandom(5);
      const file = slowFile(atOnce);
      const { write, flush } = createWriteBehind(file.handle);
      const memory = Buffer.alloc(700_000);
      const expected: Buffer[] = [];
      for (let turn = 0; turn < 40; turn += 1) {
        const piece = memory.subarray(0, Math.floor(random.next() * memory.length * (turn % 3 === 0 ? 1 : 0.01)));
        piece.fill(turn + 1);
        expected.push(Buffer.from(piece));
        await write(piece);
        memory.fill(0);
      }
      await flush();
      expect(file.content().equals(Buffer.concat(expected))).toBe(true);
      expect(file.most()).toBe(1);
      await flush();
      expect(file.content()).toHaveLength(expected.reduce((sum, { length }) => sum + length, 0));
    },
  );
  it('tells of a write that failed when it ends at the latest, and again', async () => {
    const { write, flush } = createWriteBehind(slowFile(1 << 20, 1).handle);
    await write(Buffer.alloc(300_000));
    await setImmediate();
    await expect(flush()).rejects.toThrow('no space');
    await expect(flush()).rejects.toThrow('no space');
    await expect(write(Buffer.alloc(600_000))).rejects.toThrow('no space');
  });
});
