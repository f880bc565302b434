import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';

// Two public files of one national model differ by centimetres: every command says which one it read.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-geoid-in-force-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

writeFileSync(
  join(folder, 'n.csv'),
  'latitude_deg,longitude_deg,geoid_height_m\n-33,20,30\n-33,21,31\n-33,22,32\n-32,20,31\n-32,21,32.5\n-32,22,33\n-30,20,32\n-30,21,33\n-30,22,34\n-31,20,32\n-31,21,33\n-31,22,34\n',
);
writeFileSync(
  join(folder, 'points.csv'),
  'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,orthometric_height_m,role\nA,-31.5,21.4,1043.2,1011,fit\nB,-31.6,21.5,1000,968,fit\nC,-31.55,21.3,900,868,fit\n',
);
writeFileSync(
  join(folder, 'fixes.csv'),
  'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution\nA,2026-03-04T07:00:00Z,-31.5,21.4,1043.2,fixed\n',
);
writeFileSync(
  join(folder, 's.toml'),
  'version = 1\n[system]\ngrid = "EPSG:2049"\n[height]\ngeoid = "n.csv"\n[rover]\nreference_point = "tip"\npole_length_m = 0\n',
);

const OPTIONS = ['--system', 'EPSG:2049', '--geoid', 'n.csv'];
const RUNS: Readonly<Record<string, readonly string[]>> = {
  'reduce-points': ['fixes.csv', '--session', 's.toml'],
  'check-tolerances': ['points.csv', '--control', 'points.csv', '--limit-horizontal', '1', ...OPTIONS],
  'fit-site': ['points.csv', '--control', 'points.csv', ...OPTIONS],
  'plan-baseline': ['points.csv', '--base', '-31.5,21.4,1000', '--limit-horizontal', '0.1', ...OPTIONS],
  'join-points': ['points.csv', '--consecutive', ...OPTIONS],
  'design-grid': ['points.csv', ...OPTIONS],
  'inspect-corrections': ['--fixes', 'fixes.csv', '--session', 's.toml'],
  'describe-system': ['EPSG:2049', '--at', '-31.5,21.4,1000', '--geoid', 'n.csv'],
  transform: [
    'points.csv',
    '--from',
    'EPSG:4148',
    '--from-height',
    'ellipsoidal',
    '--to-height',
    'orthometric',
    '--geoid',
    'n.csv',
  ],
};

describe('a geoid in force', () => {
  it.each(Object.entries(RUNS))('%s says its name, its digest and one of its nodes', async (command, args) => {
    const { stderr } = await runInProcess([command, ...args], { cwd: folder });
    expect(
      stderr.match(
        /geoid n\.csv, bilinear, its frame not stated \(SHA-256 [0-9a-f]{12}…; N 33\.0000 m at -31\.000000, 21\.000000\)/gu,
      ),
    ).toHaveLength(1);
  });

  it.each(Object.entries(RUNS))('%s says none of it with --quiet', async (command, args) => {
    expect((await runInProcess([command, ...args, '--quiet'], { cwd: folder })).stderr).not.toContain(
      'geoid n.csv, bilinear',
    );
  });

  it('stands in the record by its way from there, with its digest, whatever the folder is called', async () => {
    mkdirSync(join(folder, 'records'), { recursive: true });
    const geoidOf = async (record: string, typed: string): Promise<unknown> => {
      const words = ['reduce-points', 'fixes.csv', '--session', 's.toml', '--geoid', typed, '-o', 'out.csv', '--force'];
      expect((await runInProcess([...words, '--record', record], { cwd: folder })).exit).toBeLessThan(2);
      const text = readFileSync(join(folder, record), 'utf8');
      expect(text).not.toContain(tmpdir());
      const { settings, grids } = JSON.parse(text) as {
        readonly settings: readonly { readonly key: string; readonly value: unknown }[];
        readonly grids: readonly { readonly sha256: string | null }[];
      };
      expect(grids[0]?.sha256).toMatch(/^[0-9a-f]{64}$/u);
      return settings.find(({ key }) => key === 'height.geoid')?.value;
    };
    expect(await geoidOf('run.json', 'n.csv')).toBe('n.csv');
    expect(await geoidOf('records/run.json', './n.csv')).toBe('../n.csv');
  });
});
