import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../support/run-in-process.js';
import { seededRandom } from '../../support/seeded-random.js';

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-own-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

async function transform(...words: string[]): Promise<{ readonly exit: number; readonly stderr: string }> {
  return runInProcess(['transform', ...words, '--force', '-q'], { cwd: folder });
}

// Zones whose eastings, read as feet or exchanged, can lie in another part of the same zone, with places up to some
// nine hundred kilometres beside them: a zone is used beyond its edges every day.
const ZONES = [
  { code: 'EPSG:2049', base: 'EPSG:4148', latitude: [-35, -22], longitude: [14, 28] },
  { code: 'EPSG:32631', base: 'EPSG:4326', latitude: [0, 8], longitude: [-3, 9] },
  { code: 'EPSG:32734', base: 'EPSG:4326', latitude: [-8, 0], longitude: [15, 27] },
  { code: 'EPSG:27700', base: 'EPSG:4277', latitude: [48, 62], longitude: [-14, 6] },
  { code: 'EPSG:3857', base: 'EPSG:4326', latitude: [-80, 80], longitude: [-180, 180] },
] as const;

describe('transform', () => {
  it.each(ZONES)('reads back what it wrote in and around $code', async ({ code, base, latitude, longitude }) => {
    const random = seededRandom(20261128);
    const rows = Array.from(
      { length: 200 },
      (_, index) =>
        `P${String(index)},${random.between(latitude[0], latitude[1]).toFixed(9)},${random.between(longitude[0], longitude[1]).toFixed(9)}`,
    );
    writeFileSync(join(folder, 'in.csv'), `point_id,latitude_deg,longitude_deg\n${rows.join('\n')}\n`);
    const out = await transform('in.csv', '--from', base, '--to', code, '-o', 'grid.csv');
    expect(out.exit, out.stderr).toBe(0);
    const back = await transform('grid.csv', '--from', code, '--to', base, '-o', 'back.csv');
    expect(back.exit, back.stderr).toBe(0);
    const places = readFileSync(join(folder, 'back.csv'), 'utf8').trim().split('\n').slice(1);
    places.forEach((line, index) => {
      const [, a, b] = line.split(',').map(Number) as [number, number, number];
      const [, latitudeDeg, longitudeDeg] = (rows[index] ?? '').split(',').map(Number) as [number, number, number];
      expect(Math.hypot(a - latitudeDeg, b - longitudeDeg)).toBeLessThan(2e-8);
    });
  });

  it('says the guess, as a guess, for a pair some hundred kilometres beside its zone, and goes on', async () => {
    // 400 km east of the zone; exchanged it would lie inside.
    writeFileSync(join(folder, 'in.csv'), 'point_id,easting_m,northing_m\nA,1240000,600000\n');
    const { exit, stderr } = await runInProcess(['transform', 'in.csv', '--from', 'EPSG:32631', '--to', 'EPSG:4326'], {
      cwd: folder,
    });
    expect(exit, stderr).toBe(0);
    expect(stderr).toMatch(
      /in\.csv:2: warning: .*as a guess lies inside with the two exchanged \[coordinate-implausible\]/u,
    );
  });

  it('refuses an evident exchange, and takes it as it stands with --accept-position', async () => {
    writeFileSync(join(folder, 'in.csv'), 'point_id,westing_m,southing_m\nA,3482000,-31000\n');
    const words = ['in.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148', '-o', 'accepted.csv'];
    const refused = await transform(...words);
    expect(refused.exit).toBe(3);
    expect(refused.stderr).toMatch(
      /as a guess lies inside with the two exchanged \[coordinate-implausible\]\n.*--accept-position/u,
    );
    expect((await transform(...words, '--accept-position')).exit).toBe(0);
    expect(readFileSync(join(folder, 'accepted.csv'), 'utf8')).toMatch(/\nA,0\.\d+,-8\./u);
  });
});
