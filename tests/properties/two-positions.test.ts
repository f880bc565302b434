import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { seededRandom } from '../support/seeded-random.js';
import { runInProcess } from '../support/run-in-process.js';
import { gridOf } from '../core/grid/systems.js';

// Every command that reads points, in every format: a row whose grid pair and degrees are two places.
const GRID = gridOf('EPSG:2049');
const random = seededRandom(20261128);
const POINTS = Array.from({ length: 6 }, (_, index) => {
  const latitudeDeg = Math.round(random.between(-31.6, -31.4) * 1e9) / 1e9;
  const longitudeDeg = Math.round(random.between(21.3, 21.5) * 1e9) / 1e9;
  const pair = { first: 0, second: 0 };
  GRID.forward(latitudeDeg, longitudeDeg, pair);
  return { id: `P${String(index)}`, latitudeDeg, longitudeDeg, ...pair };
});
const COMMANDS: readonly (readonly [string, (points: string) => readonly string[]])[] = [
  [
    'plan-baseline',
    (points) => [
      'plan-baseline',
      points,
      '--system',
      'EPSG:2049',
      '--base',
      '-31.5,21.4,1040',
      '--limit-horizontal',
      '0.05',
    ],
  ],
  [
    'check-tolerances',
    (points) => [
      'check-tolerances',
      points,
      '--system',
      'EPSG:2049',
      '--control',
      'control.csv',
      '--limit-horizontal',
      '0.05',
    ],
  ],
  [
    'check-tolerances, its control',
    (points) => [
      'check-tolerances',
      'control.csv',
      '--system',
      'EPSG:2049',
      '--control',
      points,
      '--limit-horizontal',
      '0.05',
    ],
  ],
  ['join-points', (points) => ['join-points', points, '--system', 'EPSG:2049', '--consecutive']],
  ['transform from the grid', (points) => ['transform', points, '--from', 'EPSG:2049', '--to', 'EPSG:4148']],
  ['transform onto the grid', (points) => ['transform', points, '--from', 'EPSG:4148', '--to', 'EPSG:2049']],
  [
    'fit-site',
    (points) => [
      'fit-site',
      points,
      '--system',
      'EPSG:2049',
      '--control',
      'control.csv',
      '--allow-poor-spread',
      '-o',
      'site.json',
      '--force',
    ],
  ],
];

/** Writes the points, the third moved by so many metres of westing in its grid pair alone. */
function write(name: string, movedM: number, decimals: number): void {
  const rows = POINTS.map(({ id, first, second, latitudeDeg, longitudeDeg }, index) => ({
    id,
    westing: (first + (index === 2 ? movedM : 0)).toFixed(4),
    southing: second.toFixed(4),
    latitude: latitudeDeg.toFixed(decimals),
    longitude: longitudeDeg.toFixed(decimals),
  }));
  const text = name.endsWith('.csv')
    ? `point_id,westing_m,southing_m,latitude_deg,longitude_deg\n${rows.map((row) => Object.values(row).join(',')).join('\n')}\n`
    : JSON.stringify({
        type: 'FeatureCollection',
        features: rows.map((row) => ({
          type: 'Feature',
          geometry: { type: 'Point', coordinates: [Number(row.longitude), Number(row.latitude)] },
          properties: { point_id: row.id, westing_m: row.westing, southing_m: row.southing },
        })),
      });
  writeFileSync(join(folder, name), text);
}

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-two-'));
  writeFileSync(
    join(folder, 'control.csv'),
    `point_id,westing_m,southing_m,sigma_horizontal_m\n${POINTS.map(({ id, first, second }) => `${id},${first.toFixed(4)},${second.toFixed(4)},0.01`).join('\n')}\n`,
  );
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe.each(COMMANDS)('%s', (_, words) => {
  describe.each(['points.csv', 'points.geojson'])('%s', (name) => {
    it.each([0.05, 100, -2000, 44_000])(
      'refuses a row whose two positions are %d m apart, with the distance',
      async (movedM) => {
        write(name, movedM, 9);
        const { exit, stdout, stderr } = await runInProcess(words(name), { cwd: folder });
        expect(exit, stderr).toBe(3);
        expect(stdout.toString()).toBe('');
        expect(stderr).toContain('[position-mismatch]');
        const said = /are (\d+\.\d{3}) m apart/u.exec(stderr)?.[1] ?? '';
        expect(Math.abs(Number(said) - Math.abs(movedM))).toBeLessThan(0.002);
      },
    );
    it('takes what differs by its rounding', async () => {
      write(name, 0.003, name.endsWith('.csv') ? 6 : 9);
      const { exit, stderr } = await runInProcess(words(name), { cwd: folder });
      expect(stderr).not.toContain('position-mismatch');
      expect([0, 1]).toContain(exit);
    });
    it('goes on with the position that is chosen, and refuses one that is not read', async () => {
      write(name, 100, 9);
      const runs = await Promise.all(
        ['grid', 'geographic'].map(async (choice) =>
          runInProcess([...words(name), '--position-from', choice], { cwd: folder }),
        ),
      );
      for (const { exit, stderr } of runs) {
        expect(stderr).not.toContain('position-mismatch');
        expect([0, 1, 2]).toContain(exit);
        if (exit === 2) expect(stderr).toContain('--position-from');
      }
      expect(runs.filter(({ exit }) => exit === 2)).toHaveLength(words(name)[0] === 'transform' ? 1 : 0);
    });
  });
});

it('the position chosen is the one that counts', async () => {
  write('points.csv', 100, 9);
  const line = async (choice: string): Promise<string> =>
    (
      await runInProcess(
        [
          'join-points',
          'points.csv',
          '--system',
          'EPSG:2049',
          '--from',
          'P0',
          '--to',
          'P2',
          '--format',
          'json',
          '--position-from',
          choice,
        ],
        { cwd: folder },
      )
    ).stdout.toString();
  const distance = async (choice: string): Promise<number> =>
    (JSON.parse(await line(choice)) as { joins: { grid_distance_m: number }[] }).joins[0]?.grid_distance_m ?? NaN;
  const [a, b] = [POINTS[0], POINTS[2]];
  const apart = (movedM: number): number =>
    Math.hypot((b?.first ?? 0) + movedM - (a?.first ?? 0), (b?.second ?? 0) - (a?.second ?? 0));
  expect(Math.abs((await distance('grid')) - apart(100))).toBeLessThan(0.001);
  expect(Math.abs((await distance('geographic')) - apart(0))).toBeLessThan(0.001);
});
