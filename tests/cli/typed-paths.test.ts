import { mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../support/run-in-process.js';
import { POINT_KEYS, tiffBytes } from '../support/tiff-bytes.js';

// A page goes to others: it names files as they were typed, and not where the surveyor keeps them.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-typed-paths-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
mkdirSync(join(folder, 'job/grids'), { recursive: true });
const place = {
  width: 3,
  height: 3,
  geoKeys: POINT_KEYS,
  tiePoint: [0, 0, 0, 20, -30, 0],
  pixelScale: [1, 1, 0],
} as const;
// A grid that does not say what it holds is warned of.
writeFileSync(
  join(folder, 'job/grids/n.tif'),
  tiffBytes([{ ...place, samples: [[30, 31, 32, 30, 31, 32, 30, 31, 32]], metadata: '<GDALMetadata></GDALMetadata>' }]),
);
writeFileSync(
  join(folder, 'job/fixes.csv'),
  'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution\nA,2026-03-04T07:00:00Z,-31.5,21.4,1043.2,fixed\n',
);
const session = (geoid: string): string =>
  `version = 1\n[system]\ngrid = "EPSG:2049"\n[height]\ngeoid_frame = "EPSG:4148"\n${geoid}[rover]\nreference_point = "tip"\npole_length_m = 0\n`;
writeFileSync(join(folder, 'job/named.toml'), session('geoid = "grids/n.tif"\n'));
writeFileSync(join(folder, 'job/plain.toml'), session(''));

describe('a geoid that is warned of', () => {
  it.each([
    ['in a session', ['--session', 'job/named.toml'], 'grids/n.tif: '],
    ['on the command line', ['--session', 'job/plain.toml', '--geoid', 'job/grids/n.tif'], 'n.tif: '],
  ])('%s is named without the folders above it', async (_, options, named) => {
    const out = ['-o', 'points.csv', '--report', 'day.html', '--force'];
    const { stderr } = await runInProcess(['reduce-points', 'job/fixes.csv', ...options, ...out], { cwd: folder });
    expect(stderr).toContain(`${named}warning: `);
    const page = readFileSync(join(folder, 'day.html'), 'utf8');
    expect(stderr).toContain(`${named}warning: `);
    expect(page).toContain(named);
    for (const text of [stderr, page]) expect(text).not.toContain(folder);
  });
});
