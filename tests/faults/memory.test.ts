import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { writeCheckFiles } from '../../tools/bench/check-files.mjs';
import { BUILT, dayFolder, newFiles, REDUCE, runProgram } from './support.js';

const folders: string[] = [];
const day = (rows: number, isOnePoint: boolean): string => {
  const folder = dayFolder(rows, isOnePoint);
  folders.push(folder);
  return folder;
};
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

describe.skipIf(!BUILT)('little memory (skipped until npm run build has been run)', () => {
  it('is enough for any number of points', async () => {
    const folder = day(30_000, false);
    expect((await runProgram([...REDUCE, '-o', 'out.csv', '--quiet'], folder, ['--max-old-space-size=32'])).exit).toBe(
      1,
    );
  });

  // 2026-11-28: an epoch took 1.3 kB until its occupation ended, and this run was refused.
  it('is enough for one occupation of a hundred thousand epochs', async () => {
    const folder = day(120_000, true);
    const { exit, stderr } = await runProgram([...REDUCE, '-o', 'out.csv', '--quiet'], folder, [
      '--max-old-space-size=32',
    ]);
    expect(stderr).toBe('');
    expect(exit).toBe(1);
  });

  // 2026-11-28: a comparison took 7 kB until the end of the run, and these were refused.
  it.each(['--control', '--design'])('is enough for the comparisons of thirty thousand points by %s', async (kind) => {
    const folder = mkdtempSync(join(tmpdir(), 'pegbook-checks-'));
    folders.push(folder);
    writeCheckFiles(folder, 30_000);
    const words = [
      'check-tolerances',
      'check-points.csv',
      '--system',
      'EPSG:2049',
      kind,
      'check-control.csv',
      '--limit-horizontal',
      '0.05',
      '--limit-vertical',
      '0.08',
    ];
    const { exit, stderr } = await runProgram(
      [...words, '-o', 'checks.csv', '--junit', 'checks.xml', '--vectors', 'checks.geojson', '--quiet'],
      folder,
      ['--max-old-space-size=48'],
    );
    expect(stderr).toBe('');
    expect(exit).toBe(0);
  });

  // 2026-11-25: the engine ended such runs with an abort (134), and left its temporary file.
  it('ends one occupation that would need more in good order', async () => {
    const folder = day(1, true);
    const [header = '', row = ''] = readFileSync(join(folder, 'fixes.csv'), 'utf8').split('\n');
    const note = 'a remark of its own '.repeat(60);
    const second = (index: number): string => new Date(Date.UTC(2026, 2, 4, 6) + 1000 * index).toISOString();
    const at = header.split(',').indexOf('epoch_utc');
    const rows = Array.from(
      { length: 60_000 },
      (_, index) => `${row.split(',').with(at, second(index)).join(',')},${note}${String(index)}`,
    );
    writeFileSync(join(folder, 'fixes.csv'), `${header},remark\n${rows.join('\n')}\n`);
    const { exit, stderr } = await runProgram([...REDUCE, '-o', 'out.csv'], folder, ['--max-old-space-size=32']);
    expect(stderr).toContain('[file-too-large]');
    expect(exit).toBe(3);
    expect(newFiles(folder)).toEqual([]);
  });

  // A large file is read where it lies; what is in another encoding is held, as UTF-8.
  it.each([
    ['reads a document of 18 MB where it lies', 'utf8', 1],
    ['refuses the same in another encoding, too large to be held', 'utf16le', 3],
  ] as const)('%s', async (_, encoding, expected) => {
    const folder = day(1, false);
    const feature = (index: number): string =>
      `{"type":"Feature","id":"A","geometry":{"type":"Point","coordinates":[21.4,-31.5,1043.3]},"properties":{"epoch_utc":"${new Date(Date.UTC(2026, 2, 4, 6) + 100 * index).toISOString()}","solution":"fixed","base_id":"B1"}}`;
    const features = Array.from({ length: 110_000 }, (__, index) => feature(index)).join(',\n');
    const text = `{"type":"FeatureCollection","features":[${features}]}`;
    writeFileSync(join(folder, 'fixes.csv'), Buffer.from(encoding === 'utf8' ? text : `\uFEFF${text}`, encoding));
    const { exit, stderr } = await runProgram([...REDUCE, '--input', 'geojson', '-o', 'out.csv'], folder, [
      '--max-old-space-size=48',
    ]);
    if (expected === 3) expect(stderr).toContain('[file-too-large]');
    expect(exit, stderr).toBe(expected);
    expect(newFiles(folder)).toEqual(expected === 3 ? [] : ['out.csv']);
  });

  // 2026-11-29: nothing looked at the memory while rows were compared, and the engine ended the run with 134.
  it('ends a check of more repeats than there is memory for in good order', async () => {
    const folder = day(1, false);
    const rows = Array.from({ length: 60_000 }, (_, index) => {
      const offset = (Math.floor(index / 2) * 1e-6).toFixed(7);
      return `P${String(Math.floor(index / 2))},${String(index % 2)},2026-03-04T0${String(6 + (index % 2))}:00:00Z,B1,-31.${offset.slice(2)},21.4,1043.3,0.01,0.01,0.02`;
    });
    const head =
      'point_id,occupation,epoch_utc,base_id,latitude_deg,longitude_deg,ellipsoidal_height_m,sigma_east_m,sigma_north_m,sigma_up_m';
    writeFileSync(join(folder, 'points.csv'), `${head}\n${rows.join('\n')}\n`);
    const { exit, stderr } = await runProgram(
      ['check-tolerances', 'points.csv', '--repeats', '-s', 'session.toml', '-o', 'out.csv'],
      folder,
      ['--max-old-space-size=70'],
    );
    expect(stderr).toContain('[file-too-large]');
    expect(exit).toBe(3);
    expect(existsSync(join(folder, 'out.csv'))).toBe(false);
  });

  // 2026-11-28: such files were split whole, or unpacked whole, and the engine ended the run with 134.
  it.each([
    ['an isg grid of line ends', 'empty.isg', Buffer.alloc(30_000_000, 10), 4, '[grid-unreadable]'],
    ['a geoid grid as CSV of line ends', 'empty.csv', Buffer.alloc(30_000_000, 10), 4, '[grid-unreadable]'],
    [
      'a document of empty features',
      'empty.geojson',
      Buffer.from(`{"type":"FeatureCollection","features":[{}${',{}'.repeat(1_700_000)}]}`),
      3,
      '[geojson-structure]',
    ],
    [
      'a document whose features have each a name of their own',
      'names.geojson',
      Buffer.from(
        `{"type":"FeatureCollection","features":[${Array.from(
          { length: 20_000 },
          (_, index) =>
            `{"type":"Feature","geometry":{"type":"Point","coordinates":[21.4,-31.5,9]},"properties":{"n${String(index)}":1}}`,
        ).join(',')}]}`,
      ),
      3,
      '2000 different names',
    ],
  ])('refuses %s', async (_what, name, bytes, code, word) => {
    const folder = day(1, false);
    writeFileSync(join(folder, name), bytes);
    const words = name.endsWith('.geojson')
      ? ['reduce-points', name, '-s', 'session.toml']
      : [...REDUCE, '--geoid', name];
    const { exit, stderr } = await runProgram([...words, '-o', 'out.csv'], folder, ['--max-old-space-size=32']);
    expect(stderr).toContain(name);
    expect(stderr).toContain(word);
    expect(exit).toBe(code);
  });

  it.skipIf(process.platform === 'win32')('refuses settings that never end', async () => {
    const folder = day(1, false);
    const { exit, stderr } = await runProgram(['reduce-points', 'fixes.csv', '-s', '/dev/zero'], folder, [
      '--max-old-space-size=32',
    ]);
    expect(stderr).toContain('/dev/zero: is no regular file [file-unreadable]');
    expect(exit).toBe(4);
  });
});
