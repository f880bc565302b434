import { Buffer } from 'node:buffer';
import { mkdtempSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { FileChanged, holdSource, lineOfByte } from '../../../src/io/bytes/held-bytes.js';
import type { HeldBytes } from '../../../src/io/bytes/held-bytes.js';
import { openSource } from '../../../src/io/bytes/source.js';
import type { TextEncoding } from '../../../src/io/text/text-encoding.js';
import { openGeojsonTable } from '../../../src/io/geojson/geojson-table.js';
import { seededRandom } from '../../support/seeded-random.js';
import { chunksOf, codes, stdinSource, value } from '../support.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-held-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Five megabytes: more than is kept, with signs of two bytes. */
const TEXT = Array.from({ length: 200_000 }, (_, index) => `${String(index)} bläuliches Gras\n`).join('');
const BYTES = Buffer.from(TEXT);

async function held(content: Uint8Array, encoding: TextEncoding | null = null): Promise<HeldBytes> {
  const path = join(folder, 'in.json');
  writeFileSync(path, content);
  const source = value(await openSource(path, { cwd: folder, stdin: chunksOf(Buffer.alloc(0), 1), encoding }));
  const pieces: Buffer[] = [];
  const bytes = value(
    await holdSource(source, (piece) => {
      pieces.push(piece);
    }),
  );
  expect(Buffer.concat(pieces).equals(BYTES)).toBe(true);
  return bytes;
}

describe('holdSource', () => {
  it.each([
    ['a file', BYTES, null, 0],
    ['a file with a byte order mark', Buffer.concat([Buffer.from('\uFEFF'), BYTES]), null, 0],
    ['a file in another encoding', Buffer.from(TEXT, 'utf16le'), 'utf-16le', BYTES.length],
  ] as const)('gives the bytes of %s again, from any place, in any order', async (_, content, encoding, inMemory) => {
    const bytes = await held(content, encoding);
    expect(bytes).toMatchObject({ length: BYTES.length, memoryBytes: inMemory });
    const random = seededRandom(67);
    for (let round = 0; round < 300; round += 1) {
      const start = random.index(BYTES.length);
      const end = Math.min(BYTES.length, start + random.index(round % 10 === 0 ? 1_000_000 : 400));
      expect(bytes.slice(start, end).equals(BYTES.subarray(start, end))).toBe(true);
    }
    expect(lineOfByte(bytes, 0)).toBe(1);
    expect(lineOfByte(bytes, BYTES.length)).toBe(200_001);
    expect(lineOfByte(bytes, BYTES.indexOf('150000 b'))).toBe(150_001);
  });

  it('keeps what comes in by a pipe', async () => {
    const bytes = value(await holdSource(await stdinSource(BYTES), () => undefined));
    expect(bytes).toMatchObject({ length: BYTES.length, memoryBytes: BYTES.length });
  });

  it.each([
    ['written over with as many bytes', (path: string): void => writeFileSync(path, Buffer.alloc(BYTES.length, 32))],
    ['longer', (path: string): void => writeFileSync(path, ' ', { flag: 'a' })],
    [
      'another file of that name',
      (path: string): void => {
        writeFileSync(`${path}.new`, BYTES);
        renameSync(`${path}.new`, path);
      },
    ],
    ['gone', (path: string): void => rmSync(path)],
  ])('gives nothing of a file that is %s', async (_, change) => {
    const bytes = await held(BYTES);
    // Longer than the clock of a file system rests.
    Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 50);
    change(join(folder, 'in.json'));
    expect(() => bytes.slice(4_500_000, 4_500_010)).toThrow(FileChanged);
  });
});

describe('a document that changes after it was read', () => {
  it('is said to have changed, after the features that were read again', async () => {
    const path = join(folder, 'points.geojson');
    const feature = (index: number): string =>
      `{"type":"Feature","geometry":{"type":"Point","coordinates":[15.5,47.5]},"properties":{"point_id":"P${String(index)}"}}`;
    const features = Array.from({ length: 60_000 }, (_, index) => feature(index)).join(',');
    writeFileSync(path, `{"type":"FeatureCollection","features":[${features}]}`);
    const source = value(await openSource(path, { cwd: folder, stdin: chunksOf(Buffer.alloc(0), 1) }));
    const table = value(await openGeojsonTable(source));
    const ends: string[] = [];
    let rows = 0;
    for await (const block of table.blocks()) {
      if (!block.ok) ends.push(...codes(block));
      else rows += block.value.rows().length;
      if (rows === 10_000) writeFileSync(path, '{}');
    }
    expect(ends).toEqual(['file-changed']);
    expect(rows).toBeGreaterThanOrEqual(10_000);
    expect(rows).toBeLessThan(20_000);
  });
});
