import { createHash } from 'node:crypto';
import { mkdirSync, mkdtempSync, readFileSync, readdirSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { bagOf, bagPath } from '../../../src/io/bag/bag.js';
import { folderSink } from '../../../src/io/bag/folder-sink.js';
import { zipOf } from '../../../src/io/bag/zip-write.js';
import { hasProgram, runProgram } from '../../support/external-programs.js';
import { crcOf, unzipped } from '../../support/unzipped.js';
import { codes, value } from '../support.js';

const folder = mkdtempSync(join(tmpdir(), 'bag-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const utf8 = (text: string): Uint8Array => Buffer.from(text, 'utf8');
const PAYLOAD = [
  { path: 'reports/Ünïcode page.html', bytes: utf8('<p>') },
  { path: 'coordinates.csv', bytes: utf8('point_id\nP1\n') },
  { path: 'empty.csv', bytes: utf8('') },
];
const BAG = bagOf(PAYLOAD, [
  ['External-Description', 'two\nlines'],
  ['Bagging-Date', '2026-03-04'],
]);
const textOf = (path: string): string =>
  Buffer.from(BAG.find((file) => file.path === path)?.bytes ?? utf8('')).toString('utf8');
const digest = (text: string): string => createHash('sha256').update(text).digest('hex');

describe('bagOf', () => {
  it('has the files that RFC 8493 asks for, with what it asks of them', () => {
    expect(textOf('bagit.txt')).toBe('BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n');
    expect(textOf('bag-info.txt').split('\n').slice(0, 3)).toEqual([
      'External-Description: two lines',
      'Bagging-Date: 2026-03-04',
      'Payload-Oxum: 15.3',
    ]);
    expect(textOf('manifest-sha256.txt')).toBe(
      [
        `${digest('point_id\nP1\n')}  data/coordinates.csv`,
        // Of nothing: FIPS 180-4, a value known everywhere.
        'e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855  data/empty.csv',
        `${digest('<p>')}  data/reports/Ünïcode page.html`,
        '',
      ].join('\n'),
    );
    const tags = textOf('tagmanifest-sha256.txt').trim().split('\n');
    expect(tags.map((line) => line.slice(66))).toEqual(['bag-info.txt', 'bagit.txt', 'manifest-sha256.txt']);
    for (const line of tags) expect(line.slice(0, 64)).toBe(digest(textOf(line.slice(66))));
  });

  it('is the same bytes in whatever order the payload comes', () => {
    expect(bagOf([...PAYLOAD].reverse(), [])).toEqual(bagOf(PAYLOAD, []));
  });

  it('makes paths that stay below it and that no manifest escapes', () => {
    expect(bagPath('../../day 1/./a%b\\c\n.csv')).toBe('above/above/day 1/a_b_c_.csv');
    expect(bagPath('/etc/x. ')).toBe('etc/x_');
  });
});

describe('folderSink', () => {
  it('shows the folder when it is committed, whole, and nothing where it is given up', async () => {
    const sink = value(await folderSink('delivery', folder, BAG, false));
    value(await sink.finish());
    expect(readdirSync(folder)).not.toContain('delivery');
    value(await sink.commit());
    expect(readFileSync(join(folder, 'delivery/data/coordinates.csv'), 'utf8')).toBe('point_id\nP1\n');
    const other = value(await folderSink('other', folder, BAG, false));
    value(await other.finish());
    await other.abort();
    expect(readdirSync(folder)).toEqual(['delivery']);
  });

  it('replaces a bag with force alone, and no other folder', async () => {
    expect(codes(await folderSink('delivery', folder, BAG, false))).toEqual(['file-output-exists']);
    const sink = value(await folderSink('delivery', folder, bagOf([], []), true));
    value(await sink.finish());
    value(await sink.commit());
    expect(readdirSync(join(folder, 'delivery')).sort()).toEqual([
      'bag-info.txt',
      'bagit.txt',
      'manifest-sha256.txt',
      'tagmanifest-sha256.txt',
    ]);
    mkdirSync(join(folder, 'mine'));
    writeFileSync(join(folder, 'mine', 'raw.csv'), 'x');
    expect(codes(await folderSink('mine', folder, BAG, true))).toEqual(['file-output-unwritable']);
    expect(readFileSync(join(folder, 'mine', 'raw.csv'), 'utf8')).toBe('x');
    expect(readdirSync(folder).sort()).toEqual(['delivery', 'mine']);
  });

  it.skipIf(!hasProgram('sha256sum') || !hasProgram('sh'))(
    'is verified by sha256sum -c, and a change is found',
    async () => {
      const sink = value(await folderSink('checked', folder, BAG, false));
      value(await sink.finish());
      value(await sink.commit());
      const check = `cd '${join(folder, 'checked')}' && sha256sum -c --quiet manifest-sha256.txt tagmanifest-sha256.txt`;
      expect(runProgram('sh', ['-c', check], '')).toEqual([]);
      writeFileSync(join(folder, 'checked/data/empty.csv'), ' ');
      expect(() => runProgram('sh', ['-c', check], '')).toThrow();
    },
  );
});

describe('zipOf', () => {
  const archive = Buffer.concat(value(zipOf(BAG)));

  it('is read back by a reader of its own, every file with its digest, all with one date', () => {
    expect(crcOf(utf8('123456789'))).toBe(0xcbf43926);
    const files = unzipped(archive);
    expect(files.map(({ path, text }) => [path, text])).toEqual(
      BAG.map(({ path, bytes }) => [path, Buffer.from(bytes).toString('utf8')]),
    );
    // 1 January 1980, midnight: day 1, month 1, year 0 in the upper half (APPNOTE 4.4.6).
    expect(new Set(files.map(({ stamp }) => stamp))).toEqual(new Set([0x0021_0000]));
  });

  it('is the same bytes each time', () => {
    expect(Buffer.concat(value(zipOf(BAG))).equals(archive)).toBe(true);
  });

  it.skipIf(!hasProgram('unzip'))('is whole to unzip', () => {
    writeFileSync(join(folder, 'bag.zip'), archive);
    expect(runProgram('unzip', ['-tqq', join(folder, 'bag.zip')], '').filter((line) => line !== '')).toEqual([]);
  });

  it('refuses more files than the form holds', () => {
    const file = { path: 'a', bytes: utf8('') };
    expect(codes(zipOf(new Array<typeof file>(65_535).fill(file)))).toEqual(['file-too-large']);
  });
});
