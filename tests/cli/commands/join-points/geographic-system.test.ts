import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../../support/run-in-process.js';
import type { RunResult } from '../../../support/run-in-process.js';

const folder = mkdtempSync(join(tmpdir(), 'pegbook-join-geographic-'));
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Flinders Peak and Buninyong, and New York and Tokyo, which no zone holds together. */
const POINTS = `point_id,latitude_deg,longitude_deg,ellipsoidal_height_m
F,-37.9510334167,144.4248678889,350.948
B,-37.6528211389,143.9264955278,749.855
N,40.6,-73.8,
T,35.55,139.766667,
`;

async function run(words: readonly string[], points = POINTS): Promise<RunResult> {
  writeFileSync(join(folder, 'points.csv'), points);
  return runInProcess(['join-points', 'points.csv', ...words], { cwd: folder });
}

async function rows(words: readonly string[], points = POINTS): Promise<readonly Record<string, string>[]> {
  const [head = '', ...lines] = (await run(words, points)).stdout.toString('utf8').trim().split('\n');
  const names = head.split(',');
  return lines.map((line) => Object.fromEntries(line.split(',').map((cell, i) => [names[i] ?? '', cell])));
}

describe('join-points in a geographic system', () => {
  it('gives the geodesic of a worked example, with ground and slope distance, and no quantity of a map', async () => {
    // GDA2020-TM, the worked line: 54 972.271 m, 306 52 05.37, 127 10 25.07.
    const [line] = await rows(['--system', 'EPSG:7844', '--from', 'F', '--to', 'B']);
    expect(Math.abs(Number.parseFloat(line!['ellipsoidal_distance_m']!) - 54972.271)).toBeLessThan(6e-4);
    expect(Number.parseFloat(line!['azimuth_deg']!)).toBeCloseTo(306 + 52 / 60 + 5.37 / 3600, 5);
    expect(Number.parseFloat(line!['reverse_azimuth_deg']!)).toBeCloseTo(127 + 10 / 60 + 25.07 / 3600, 5);
    expect(Object.keys(line!).filter((name) => /grid|convergence|arc_to_chord|scale/u.test(name))).toEqual([]);
    // The same line through a zone.
    const [inZone] = await rows(
      ['--system', 'EPSG:7855', '--from', 'F', '--to', 'B'],
      POINTS.split('\n').slice(0, 3).join('\n'),
    );
    for (const name of Object.keys(line!)) expect(line![name], name).toBe(inZone![name]);
  });

  it('joins points that no projection holds together', async () => {
    // GeographicLib, GeodSolve -i -p 4.
    const [line] = await rows(['--system', 'EPSG:4326', '--from', 'N', '--to', 'T']);
    expect(line!['ellipsoidal_distance_m']).toBe('10903010.9334');
    expect(Number.parseFloat(line!['azimuth_deg']!)).toBeCloseTo(360 - 26.967129631, 8);
    expect(Number.parseFloat(line!['reverse_azimuth_deg']!)).toBeCloseTo(180 - 154.95595346, 8);
    expect(line!['ground_distance_m']).toBe('');
  });

  it('takes DMS, GeoJSON and JSON as with a grid', async () => {
    const json = await run(['--system', 'EPSG:4326', '--consecutive', '--format', 'json']);
    const answer = JSON.parse(json.stdout.toString('utf8')) as { schema: string; system: string; joins: unknown[] };
    expect([answer.schema, answer.system, answer.joins.length]).toEqual(['pegbook-joins', 'EPSG:4326', 3]);
    expect((await run(['--system', 'EPSG:4326', '--consecutive', '--format', 'geojson'])).exit).toBe(0);
    expect((await run(['--system', 'EPSG:4326', '--consecutive', '--angles', 'dms'])).stdout.toString()).toContain('°');
  });

  it('refuses what needs a map, a point without a place, and a file of grid pairs', async () => {
    for (const words of [
      ['--polar', 'p.csv'],
      ['--from', 'F', '--explain'],
    ]) {
      const refused = await run(['--system', 'EPSG:4326', ...words]);
      expect(refused.exit, words.join(' ')).toBe(2);
      expect(refused.stderr).toContain('is no projected system');
    }
    const around = await run(['--system', 'EPSG:4326', '--area', 'F,B,N']);
    expect(around.exit).toBe(3);
    expect(around.stderr).toContain('corner N is 16737 km from the first');
    const empty = await run(['--system', 'EPSG:4326', '--consecutive'], `${POINTS}X,,,\n`);
    expect(empty.exit).toBe(3);
    expect(empty.stderr).toContain('there is no latitude and longitude');
    const grid = await run(['--system', 'EPSG:4326', '--consecutive'], 'point_id,easting_m,northing_m\nA,1,2\nB,3,4\n');
    expect(grid.exit).toBe(3);
    expect(grid.stderr).toContain('latitude');
  });
});
