import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';
import { tipSession } from '../support/tip-session.js';

// Every command that maps columns, the columns that carry a unit, and headers that say another one: obeying the map would
// put feet for metres or gon for degrees into the answer.
const LENGTH_UNITS = ['ft', 'usft', 'mm', 'km', '[feet]'];
const ANGLE_UNITS = ['gon', 'rad', '(grad)'];
const HEAD = {
  fixes: 'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution',
  grid: 'point_id,westing_m,southing_m,ellipsoidal_height_m',
  degrees: 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m',
} as const;
const ROWS = {
  fixes: 'A,2026-03-04T07:00:00Z,-31.51,21.41,1050,fixed',
  grid: 'A,-38946.9576,3487592.8238,1050\nB,-39894,3488703,1052',
  degrees: 'A,-31.51,21.41,1050\nB,-31.52,21.42,1052',
} as const;
type Table = keyof typeof HEAD;

/** Words of each command that reads in.csv, its table, and the option that maps its columns. */
const COMMANDS: Readonly<
  Record<string, { readonly table: Table; readonly map: string; readonly words: readonly string[] }>
> = {
  'reduce-points': { table: 'fixes', map: '-c', words: ['reduce-points', 'in.csv', '-s', 's.toml'] },
  'transform from a grid': {
    table: 'grid',
    map: '-c',
    words: ['transform', 'in.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148'],
  },
  'transform from degrees': {
    table: 'degrees',
    map: '-c',
    words: ['transform', 'in.csv', '--from', 'EPSG:4148', '--to', 'EPSG:2049'],
  },
  'join-points': {
    table: 'grid',
    map: '-c',
    words: ['join-points', 'in.csv', '--system', 'EPSG:2049', '--consecutive'],
  },
  'plan-baseline': {
    table: 'degrees',
    map: '-c',
    words: ['plan-baseline', 'in.csv', '--system', 'EPSG:2049', '--base=-31.5,21.4,1040', '--limit-horizontal', '0.05'],
  },
  'check-tolerances': {
    table: 'grid',
    map: '-c',
    words: [
      'check-tolerances',
      'in.csv',
      '--system',
      'EPSG:2049',
      '--control',
      'plain.csv',
      '--limit-horizontal',
      '0.05',
    ],
  },
  'check-tolerances, its control': {
    table: 'grid',
    map: '--control-columns',
    words: [
      'check-tolerances',
      'plain.csv',
      '--system',
      'EPSG:2049',
      '--control',
      'in.csv',
      '--limit-horizontal',
      '0.05',
    ],
  },
  'check-tolerances, its design': {
    table: 'grid',
    map: '--design-columns',
    words: [
      'check-tolerances',
      'plain.csv',
      '--system',
      'EPSG:2049',
      '--design',
      'in.csv',
      '--limit-horizontal',
      '0.05',
    ],
  },
  'fit-site': {
    table: 'grid',
    map: '-c',
    words: ['fit-site', 'in.csv', '--control', 'plain.csv', '--system', 'EPSG:2049'],
  },
  'fit-site, its control': {
    table: 'grid',
    map: '--control-columns',
    words: ['fit-site', 'plain.csv', '--control', 'in.csv', '--system', 'EPSG:2049'],
  },
};
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-units-'));
  writeFileSync(join(folder, 's.toml'), tipSession());
  writeFileSync(join(folder, 'plain.csv'), `${HEAD.grid}\n${ROWS.grid}\n`);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe.each(Object.entries(COMMANDS))('%s', (_, { table, map, words }) => {
  const columns = HEAD[table].split(',').filter((name) => /_(?:m|deg)$/u.test(name));
  const cases = columns.flatMap((column) =>
    (column.endsWith('_m') ? LENGTH_UNITS : ANGLE_UNITS).map(
      (unit) => [column, `${column.replace(/_(?:m|deg)$/u, '')} ${unit}`] as const,
    ),
  );
  it.each(cases)('does not take %s from "%s"', async (column, header) => {
    writeFileSync(join(folder, 'in.csv'), `${HEAD[table].replace(column, header)}\n${ROWS[table]}\n`);
    const { exit, stdout, stderr } = await runInProcess([...words, map, `${column}=${header}`], { cwd: folder });
    expect(stderr).toContain('[csv-header-contradicts]');
    expect(exit).toBe(3);
    expect(stdout.toString()).toBe('');
    const bare = await runInProcess(words, { cwd: folder });
    expect(bare.stderr).not.toContain(`${column}=${header}`);
  });
});
