import { Buffer } from 'node:buffer';
import { createHash } from 'node:crypto';
import { appendFile, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { openSource } from '../../../src/io/bytes/source.js';
import type { Source } from '../../../src/io/bytes/source.js';
import type { TextEncoding } from '../../../src/io/text/text-encoding.js';
import type { Outcome } from '../../../src/records/outcome.js';
import { all, chunksOf, codes, stdinSource, value } from '../support.js';

let folder = '';
beforeEach(async () => {
  folder = await mkdtemp(join(tmpdir(), 'source-'));
});
afterEach(async () => {
  await rm(folder, { recursive: true });
});

async function file(
  name: string,
  bytes: Uint8Array | string,
  encoding: TextEncoding | null = null,
  chunkBytes = 1 << 20,
): Promise<Source> {
  await writeFile(join(folder, name), bytes);
  return value(await openSource(name, { cwd: folder, stdin: chunksOf(Buffer.alloc(0), 1), encoding, chunkBytes }));
}

async function textOf(source: Source): Promise<string> {
  const chunks = await all(source.chunks());
  return Buffer.concat(chunks.map(value)).toString('utf8');
}

async function last(source: Source): Promise<Outcome<Buffer>> {
  const chunks = await all(source.chunks());
  const end = chunks.at(-1);
  if (end === undefined) throw new Error('no chunk');
  return end;
}

describe('openSource', () => {
  it('says that a file is not there, or is a folder', async () => {
    const options = { cwd: folder, stdin: chunksOf(Buffer.alloc(0), 1) };
    await mkdir(join(folder, 'inner'));
    expect(codes(await openSource('none.csv', options))).toEqual(['file-not-found']);
    expect(codes(await openSource('inner', options))).toEqual(['file-unreadable']);
  });

  it('gives size and SHA-256 of the bytes of the file, byte order mark and all, and no folder', async () => {
    const bytes = Buffer.from('\ufeffa,b\n', 'utf8');
    const source = await file('a.csv', bytes);
    expect(await textOf(source)).toBe('a,b\n');
    const sha256 = createHash('sha256').update(bytes).digest('hex');
    expect(source.digest()).toEqual({ name: 'a.csv', bytes: bytes.length, sha256 });
  });

  it('passes on the bytes of what is no text as they are, marks of encodings too, which it has none of', async () => {
    for (const bytes of [
      Buffer.from([0xef, 0xbb, 0xbf, 0xd3, 0]),
      Buffer.from([0xff, 0xfe, 0, 0xd3]),
      Buffer.alloc(0),
    ]) {
      await writeFile(join(folder, 'a.rtcm3'), bytes);
      const source = value(
        await openSource('a.rtcm3', {
          cwd: folder,
          stdin: chunksOf(Buffer.alloc(0), 1),
          isBinary: true,
          chunkBytes: 2,
        }),
      );
      expect(Buffer.concat((await all(source.chunks())).map(value))).toEqual(bytes);
      expect(source.encoding()).toBeNull();
      expect(source.digest().bytes).toBe(bytes.length);
    }
  });

  it.each(['utf-16le', 'utf-16be'] as const)(
    'reads %s by its byte order mark, in chunks of any size',
    async (encoding) => {
      const text = 'point_id,note\nA,día 𐍈 ok\n';
      const bytes = Buffer.from(`\ufeff${text}`, 'utf16le');
      if (encoding === 'utf-16be') bytes.swap16();
      for (const size of [1, 2, 3, 5, 1000]) {
        const source = await stdinSource(bytes, size);
        expect(await textOf(source)).toBe(text);
        expect(source.encoding()).toBe(encoding);
      }
    },
  );

  it('reads Windows-1252 and ISO 8859-1 apart', async () => {
    // 0x80 is the euro sign in Windows-1252 and a control character in ISO 8859-1; 0xE9 is é in both.
    expect(await textOf(await file('w.csv', Buffer.from([0x80, 0xe9]), 'windows-1252'))).toBe('€é');
    expect(await textOf(await file('i.csv', Buffer.from([0x80, 0xe9]), 'iso-8859-1'))).toBe('\u0080é');
    expect(codes(await last(await file('u.csv', Buffer.from([0x41, 0x81]), 'windows-1252')))).toEqual([
      'file-encoding',
    ]);
  });

  it('names the offset of the first byte that is not UTF-8, whatever the chunks', async () => {
    const bytes = Buffer.concat([Buffer.from('\ufeffaé𐍈', 'utf8'), Buffer.from([0xe9, 0x2c, 0x41])]);
    for (const size of [1, 2, 3, 4, 100]) {
      const end = await last(await stdinSource(bytes, size));
      expect(codes(end)).toEqual(['file-encoding']);
      expect(end.problems[0]?.message).toContain('offset 10 ');
      expect(end.problems[0]?.hint).toContain('windows-1252');
    }
  });

  it('reports a character cut off by the end of the file', async () => {
    expect(codes(await last(await stdinSource(Buffer.from('é').subarray(0, 1))))).toEqual(['file-encoding']);
    expect(codes(await last(await stdinSource(Buffer.from([0xff, 0xfe, 0x41]))))).toEqual(['file-encoding']);
    expect(codes(await last(await stdinSource(Buffer.from([0xff, 0xfe, 0x00, 0xd8]))))).toEqual(['file-encoding']);
    expect(codes(await last(await stdinSource(Buffer.from([0xff, 0xfe, 0x00, 0xdc, 0x41, 0x00]))))).toEqual([
      'file-encoding',
    ]);
  });

  it('suspects UTF-16 without a mark by its zero bytes, and a mark that contradicts the option', async () => {
    const bare = await last(await stdinSource(Buffer.from('a,b\n', 'utf16le')));
    expect(bare.problems[0]?.hint).toContain('utf-16le');
    const marked = await last(await stdinSource('\ufeffa', 100, 'windows-1252'));
    expect(codes(marked)).toEqual(['file-encoding']);
  });

  it('passes valid UTF-8 on unchanged for any text and chunk size', async () => {
    await fc.assert(
      fc.asyncProperty(
        fc.string({ unit: 'binary', maxLength: 30 }),
        fc.integer({ min: 1, max: 7 }),
        async (raw, size) => {
          const text = raw.replaceAll('\0', '').replace(/^\ufeff/u, '');
          expect(await textOf(await stdinSource(`\ufeff${text}`, size))).toBe(text);
        },
      ),
      { numRuns: 300 },
    );
  });

  it('finds any broken byte where the engine does', async () => {
    const strict = new TextDecoder('utf-8', { fatal: true });
    await fc.assert(
      fc.asyncProperty(
        fc.uint8Array({ min: 1, minLength: 3, maxLength: 12 }),
        fc.integer({ min: 1, max: 5 }),
        async (bytes, size) => {
          fc.pre(
            !(bytes[0] === 0xff && bytes[1] === 0xfe) && !(bytes[0] === 0xfe && bytes[1] === 0xff) && bytes[0] !== 0xef,
          );
          let isGood = true;
          try {
            strict.decode(bytes);
          } catch {
            isGood = false;
          }
          expect((await last(await stdinSource(bytes, size))).ok).toBe(isGood);
        },
      ),
      { numRuns: 500 },
    );
  });

  it('notices a file that grew while it was read', async () => {
    const source = await file('grow.csv', 'a,b\n1,2\n', null, 4);
    const chunks = source.chunks();
    await chunks.next();
    await appendFile(join(folder, 'grow.csv'), '3,4\n');
    const ends: Outcome<Buffer>[] = [];
    for await (const chunk of chunks) ends.push(chunk);
    expect(ends.at(-1)?.problems[0]?.code).toBe('file-changed');
  });
});
