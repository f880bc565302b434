import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasProgram, numbersOf, runProgram } from '../../../support/external-programs.js';
import { runInProcess } from '../../../support/run-in-process.js';
import { seededRandom } from '../../../support/seeded-random.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-plan-'));
const BASE = [-17.2, 179.9] as const;

interface Plan {
  readonly points: readonly Record<string, unknown>[];
  readonly ranges: readonly { readonly normal: { readonly range_m: number } }[];
}
interface Coverage {
  readonly features: readonly {
    readonly geometry: { readonly type: string; readonly coordinates: never };
    readonly properties: Record<string, unknown>;
  }[];
}

async function run(
  ...words: string[]
): Promise<{ readonly exit: number; readonly stdout: string; readonly stderr: string }> {
  const result = await runInProcess(
    [
      'plan-baseline',
      'points.csv',
      '--system',
      'EPSG:4326',
      '--limit-horizontal',
      '0.05',
      '--limit-vertical',
      '0.10',
      '--pole-length',
      '2',
      '--base-sigma',
      '0.01,0.02',
      '--force',
      '--quiet',
      ...words,
    ],
    { cwd: folder },
  );
  return { ...result, stdout: result.stdout.toString('utf8') };
}

beforeAll(() => {
  const random = seededRandom(9);
  const rows = Array.from(
    { length: 60 },
    (_, index) =>
      `P${index},${random.between(-18, -16.5).toFixed(9)},${(((random.between(179, 181) + 540) % 360) - 180).toFixed(9)},${random.between(0, 500).toFixed(3)}`,
  );
  writeFileSync(
    join(folder, 'points.csv'),
    `point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\n${rows.join('\n')}\n`,
  );
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('pegbook plan-baseline', () => {
  it.skipIf(!hasProgram('GeodSolve'))(
    'prints distances and azimuths as GeodSolve has them, to the last decimal (skipped where the program is absent)',
    async () => {
      const { stdout } = await run('--base', BASE.join(','), '--format', 'json');
      const { points } = JSON.parse(stdout) as Plan;
      expect(points).toHaveLength(60);
      const lines = runProgram(
        'GeodSolve',
        ['-i', '-p', '9'],
        points
          .map((point) => `${BASE.join(' ')} ${String(point['latitude_deg'])} ${String(point['longitude_deg'])}`)
          .join('\n'),
      ).map(numbersOf);
      points.forEach((point, index) => {
        expect(Math.abs((point['baseline_m'] as number) - (lines[index]?.[2] ?? NaN))).toBeLessThanOrEqual(0.00005001);
        const turn = ((point['baseline_azimuth_deg'] as number) - (lines[index]?.[0] ?? NaN) + 540) % 360;
        expect(Math.abs(turn - 180)).toBeLessThanOrEqual(0.00000051);
      });
    },
  );

  it.skipIf(!hasProgram('GeodSolve'))(
    'draws rings whose written vertices lie at the radius within 1 mm, counter-clockwise, and never across the map (skipped where the program is absent)',
    async () => {
      const { exit } = await run('--base', BASE.join(','), '-o', 'plan.csv', '--coverage', 'coverage.geojson');
      expect(exit).toBe(1);
      const { features } = JSON.parse(readFileSync(join(folder, 'coverage.geojson'), 'utf8')) as Coverage;
      const rings = features.filter(({ properties }) => properties['role'] === 'ring');
      expect(rings.map(({ properties }) => properties['conditions'])).toEqual(['quiet', 'normal', 'active']);
      for (const { geometry, properties } of rings) {
        expect(geometry.type).toBe('MultiPolygon');
        const outer = (geometry.coordinates as [number, number][][][]).flat();
        for (const ring of outer) {
          expect(ring[0]).toEqual(ring.at(-1));
          let twiceArea = 0;
          for (const [index, [x, y]] of ring.slice(1).entries()) {
            const [x0, y0] = ring[index] ?? [0, 0];
            expect(Math.abs(x - x0)).toBeLessThan(1);
            twiceArea += x0 * y - x * y0;
          }
          expect(twiceArea).toBeGreaterThan(0);
        }
        const distances = runProgram(
          'GeodSolve',
          ['-i', '-p', '9'],
          outer
            .flat()
            .map(([x, y]) => `${BASE.join(' ')} ${y} ${x}`)
            .join('\n'),
        ).map(numbersOf);
        for (const [, , distanceM = NaN] of distances)
          expect(Math.abs(distanceM - (properties['radius_m'] as number))).toBeLessThan(1e-3);
      }
      expect(features.filter(({ properties }) => properties['role'] === 'baseline')).toHaveLength(60);
    },
  );

  it('gives the same values under the same names in CSV, GeoJSON and JSON, and agrees that exit 1 means a point outside', async () => {
    const [csv, geojson, json] = await Promise.all(
      ['csv', 'geojson', 'json'].map((format) => run('--base', BASE.join(','), '--format', format)),
    );
    const [header = '', ...rows] = (csv?.stdout ?? '')
      .trimEnd()
      .split('\n')
      .map((line) => line.split(','));
    const points = (JSON.parse(json?.stdout ?? '') as Plan).points;
    const features = (JSON.parse(geojson?.stdout ?? '') as Coverage).features;
    rows.forEach((cells, index) => {
      cells.forEach((cell, column) => {
        const name = header[column] ?? '';
        for (const value of [points[index]?.[name], features[index]?.properties[name]]) {
          if (typeof value === 'number') expect(value, name).toBe(Number(cell));
          else expect(value ?? '', name).toBe(cell);
        }
      });
    });
    expect([csv?.exit, geojson?.exit, json?.exit]).toEqual([1, 1, 1]);
    expect(points.some((point) => point['verdict'] === 'outside')).toBe(true);
  });

  it('writes nothing when a row is bad, and says where', async () => {
    writeFileSync(join(folder, 'bad.csv'), 'point_id,latitude_deg,longitude_deg\nA,-17,179\nB,north,179\n');
    const result = await runInProcess(
      [
        'plan-baseline',
        'bad.csv',
        '--system',
        'EPSG:4326',
        '--limit-horizontal',
        '1',
        '-o',
        'never.csv',
        '--coverage',
        'never.geojson',
      ],
      { cwd: folder },
    );
    expect(result.exit).toBe(3);
    expect(result.stderr).toContain('bad.csv:3:2: latitude_deg:');
    expect(() => readFileSync(join(folder, 'never.csv'))).toThrow();
    expect(() => readFileSync(join(folder, 'never.geojson'))).toThrow();
  });

  it('records the systems, the settings given on the command line, and the verdict', async () => {
    await run('--base', BASE.join(','), '--conditions', 'active', '-o', 'plan.csv', '--record', 'run.json');
    const record = JSON.parse(readFileSync(join(folder, 'run.json'), 'utf8')) as {
      settings: { key: string; value: unknown; from: string }[];
      verdict: string;
      exit_code: number;
      inputs: { rows_used: number }[];
    };
    expect(record.settings).toContainEqual({ key: 'precision.conditions', value: 'active', from: 'command line' });
    expect(record.settings).toContainEqual({ key: 'tolerance.horizontal_m', value: 0.05, from: 'command line' });
    expect(record).toMatchObject({ verdict: 'no', exit_code: 1, inputs: [{ rows_used: 60 }] });
  });
});
