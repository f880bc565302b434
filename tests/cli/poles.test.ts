import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { pointRows } from '../support/point-rows.js';
import { runInProcess } from '../support/run-in-process.js';
import type { RunResult } from '../support/run-in-process.js';

// At the pole itself, 11 m and 100 m from it. Eastings and northings by `cct +proj=stere` (PROJ 9.1.1) with the
// parameters of the two systems: another implementation than the one used here.
const PLACES: readonly (readonly [
  system: string,
  latitudeDeg: number,
  longitudeDeg: number,
  easting: number,
  northing: number,
])[] = [
  ['EPSG:32661', 90, 0, 2_000_000, 2_000_000],
  ['EPSG:32661', 89.9999, 123.4, 2_000_009.2688, 2_000_006.11165],
  ['EPSG:32661', 89.9991, -57, 1_999_916.19883, 1_999_945.57889],
  ['EPSG:3031', -90, 0, 0, 0],
  ['EPSG:3031', -89.9999, 123.4, 9.07083, -5.98111],
  ['EPSG:3031', -89.9991, -57, -82.01124, 53.25873],
];
/** Half of the last decimal written, and that of `cct`. */
const GRID_M = 0.000055;
/** Metres a degree along a meridian at the pole, for half of the last of nine decimals and of the grid's four. */
const BACK_M = 0.00011;
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-poles-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const run = (...words: string[]): Promise<RunResult> => runInProcess(words, { cwd: folder });
const close = (text: string | undefined, expected: number): void =>
  expect(Math.abs(Number(text) - expected), text).toBeLessThan(GRID_M);
const placesOf = (system: string): typeof PLACES => PLACES.filter(([code]) => code === system);

describe.each(['EPSG:32661', 'EPSG:3031'])('every command works to the pole of %s', (system) => {
  const places = placesOf(system);
  const geographic = [
    'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m',
    ...places.map(([, latitudeDeg, longitudeDeg], index) => `P${index},${latitudeDeg},${longitudeDeg},10`),
    '',
  ].join('\n');
  const grid = [
    'point_id,easting_m,northing_m,ellipsoidal_height_m',
    ...places.map(([, , , easting, northing], index) => `P${index},${easting},${northing},10`),
    '',
  ].join('\n');

  it('transform, forward and back', async () => {
    writeFileSync(join(folder, 'geographic.csv'), geographic);
    writeFileSync(join(folder, 'grid.csv'), grid);
    const forward = await run('transform', 'geographic.csv', '--from', 'EPSG:4326', '--to', system);
    expect(forward.exit, forward.stderr).toBe(0);
    pointRows(forward).forEach((row, index) => {
      close(row['easting_m'], places[index]?.[3] ?? NaN);
      close(row['northing_m'], places[index]?.[4] ?? NaN);
    });
    const back = await run('transform', 'grid.csv', '--from', system, '--to', 'EPSG:4326');
    expect(back.exit, back.stderr).toBe(0);
    pointRows(back).forEach((row, index) => {
      const [, latitudeDeg = NaN, longitudeDeg = NaN] = places[index] ?? [];
      const colatitudeM = 111_694 * (90 - Math.abs(latitudeDeg));
      const off = Math.hypot(
        111_694 * (Number(row['latitude_deg']) - latitudeDeg),
        (colatitudeM * Math.PI * (Number(row['longitude_deg']) - longitudeDeg)) / 180,
      );
      expect(off, JSON.stringify(row)).toBeLessThan(BACK_M);
    });
  });

  it('describe-system', async () => {
    for (const [, latitudeDeg, longitudeDeg, easting, northing] of places) {
      const described = await run(
        'describe-system',
        system,
        `--at=${latitudeDeg},${longitudeDeg},10`,
        '--format',
        'json',
      );
      expect(described.exit, described.stderr).toBe(0);
      const said = JSON.parse(described.stdout.toString()) as Readonly<Record<string, number>>;
      expect(Math.abs((said['easting_m'] ?? NaN) - easting)).toBeLessThan(GRID_M);
      expect(Math.abs((said['northing_m'] ?? NaN) - northing)).toBeLessThan(GRID_M);
    }
  });

  it('join-points', async () => {
    writeFileSync(join(folder, 'grid.csv'), grid);
    const joined = await run('join-points', 'grid.csv', '--system', system, '--consecutive');
    expect(joined.exit, joined.stderr).toBe(0);
    pointRows(joined).forEach((row, index) => {
      const [from, to] = [places[index], places[index + 1]];
      close(
        row['grid_distance_m'],
        Math.hypot((to?.[3] ?? NaN) - (from?.[3] ?? NaN), (to?.[4] ?? NaN) - (from?.[4] ?? NaN)),
      );
      // Grid bearing = azimuth − convergence, whole turns apart.
      const turn =
        (Number(row['azimuth_deg']) - Number(row['convergence_from_deg']) - Number(row['grid_bearing_deg'])) / 360;
      expect(Math.abs(turn - Math.round(turn))).toBeLessThan(1e-8);
    });
  });

  it('reduce-points', async () => {
    writeFileSync(
      join(folder, 's.toml'),
      `version = 1\n[system]\ngrid = "${system}"\n[rover]\nreference_point = "tip"\n[[base]]\nid = "B"\nbroadcast = { latitude_deg = ${places[0]?.[1] ?? 0}, longitude_deg = 0.0, ellipsoidal_height_m = 10.0, at = "arp" }\nsigma_horizontal_m = 0.01\nsigma_vertical_m = 0.02\n`,
    );
    writeFileSync(
      join(folder, 'fixes.csv'),
      [
        'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution',
        ...places.map(
          ([, latitudeDeg, longitudeDeg], index) =>
            `P${index},2026-03-04T06:0${index}:00Z,${latitudeDeg},${longitudeDeg},10,fixed`,
        ),
        '',
      ].join('\n'),
    );
    const reduced = await run('reduce-points', 'fixes.csv', '--session', 's.toml');
    expect(reduced.exit, reduced.stderr).toBe(0);
    pointRows(reduced).forEach((row, index) => {
      close(row['easting_m'], places[index]?.[3] ?? NaN);
      close(row['northing_m'], places[index]?.[4] ?? NaN);
      expect(Math.abs(Number(row['baseline_m']) - 111_694 * (90 - Math.abs(places[index]?.[1] ?? NaN)))).toBeLessThan(
        0.001,
      );
    });
  });
});
