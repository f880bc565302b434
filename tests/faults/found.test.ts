import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { prepareFolder } from '../../tools/fuzz/fuzz-cases.mjs';
import { sentence } from '../../tools/fuzz/mutate.mjs';
import { textOf } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';
import type { RunResult } from '../support/run-in-process.js';

// Every fault that was found by damaging inputs, by its date. None may come back.
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-found-'));
  prepareFolder(folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

function put(name: string, content: string): void {
  writeFileSync(join(folder, name), content);
}
async function run(argv: readonly string[], env: Readonly<Record<string, string>> = {}): Promise<RunResult> {
  return runInProcess(argv, { cwd: folder, env });
}
const feature = (properties: string, geometry = '{"type":"Point","coordinates":[21.4,-31.5,1043]}'): string =>
  `{"type":"FeatureCollection","features":[{"type":"Feature","id":"A","geometry":${geometry},"properties":{${properties}}}]}`;
const deep = (depth: number): string => '['.repeat(depth) + ']'.repeat(depth);
const REDUCE = ['reduce-points', 'found.csv', '-s', 'session.toml'];
const PLAN = [
  'plan-baseline',
  'found.geojson',
  '--system',
  'EPSG:2049',
  '--limit-horizontal',
  '0.05',
  '--limit-vertical',
  '0.1',
  '--base',
  '-31.5,21.4,1040',
  '--spacing',
  '2000',
];

describe('faults found on 2026-11-25', () => {
  it.each([5000, 100_000])('a property nested %i deep exhausted the stack', async (depth) => {
    put('found.geojson', feature(`"note":${deep(depth)}`));
    const { exit, stderr } = await run(['reduce-points', 'found.geojson', '-s', 'session.toml']);
    expect(stderr).toContain('is nested more than 64 deep [geojson-structure]');
    expect(exit).toBe(3);
  });

  it.each([
    ['a property', feature(`"note":${deep(20_000)}`)],
    ['a type of geometry', feature('', `{"type":${deep(20_000)},"coordinates":[21.4,-31.5]}`)],
    ['positions', feature('', `{"type":"LineString","coordinates":${deep(20_000)}}`)],
  ])('%s of a plan nested very deep exhausted the stack', async (_, text) => {
    put('found.geojson', text);
    const { exit, stderr } = await run(PLAN);
    expect(stderr).toContain('[geojson-structure]');
    expect(exit).toBe(3);
  });

  it('a height of 1e308 in a plan was carried to the output', async () => {
    put(
      'found.geojson',
      feature('"point_id":"L"', '{"type":"LineString","coordinates":[[21.4,-31.5,1e308],[21.5,-31.5,0]]}'),
    );
    const { exit, stderr } = await run(PLAN);
    expect(stderr).toContain('[value-out-of-range]');
    expect(exit).toBe(3);
  });

  it('an altitude of 1e308 in a log overflowed', async () => {
    const words = [
      'GNRMC,050000.00,A,3130.0876000,S,02124.0858000,E,0.1,,040326,,,R',
      'GNGGA,050000.00,3130.0876000,S,02124.0858000,E,4,18,0.7,1e308,M,1e308,M,1.0,0001',
    ];
    put('found.nmea', words.map((body) => `${sentence(body)}\r\n`).join(''));
    const { exit, stderr } = await run(['reduce-points', 'found.nmea', '-s', 'session.toml']);
    expect(stderr).toContain('[value-out-of-range]');
    expect(exit).toBe(3);
  });

  it.each(['sigma_east_m', 'sigma_north_m', 'sigma_up_m', 'pdop', 'correction_age_s'])(
    '%s of 1e308 has a bound',
    async (column) => {
      put('found.csv', `point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,${column}\nA,-31.5,21.4,1000,1e308\n`);
      const { exit, stderr } = await run(REDUCE);
      expect(stderr).toContain('[value-out-of-range]');
      expect(exit).toBe(3);
    },
  );

  it('a translation of 1e308 m overflowed', async () => {
    put('found.toml', 'method = "Geocentric translations (geog2D domain)"\ntx_m = 1e308\nty_m = 0\ntz_m = 0\n');
    const { exit, stderr } = await run([
      'transform',
      'points.csv',
      '--from',
      'EPSG:2049',
      '--to',
      'EPSG:4326',
      '--shift',
      'found.toml',
    ]);
    expect(stderr).toContain('[config-invalid-value]');
    expect(exit).toBe(2);
  });

  it.each([
    ['a member nested very deep', '"scale":', `"scale":${deep(20_000)},"was":`],
    ['a scale of 1e308', '"scale":', '"scale":1e308,"was":'],
  ])('%s of a site file broke the run', async (_, member, damage) => {
    put(
      'found.json',
      textOf('tools/fuzz/site.json').replaceAll(/\n\s*/gu, '').replaceAll('": ', '":').replace(member, damage),
    );
    const { exit, stderr } = await run(['transform', 'points.csv', '--from', 'EPSG:2049', '--site', 'found.json']);
    expect(stderr).toContain('[record-schema]');
    expect(exit).toBe(3);
  });

  it('more problems than a call takes arguments exhausted the stack', async () => {
    put('found.csv', `point_id,latitude_deg,longitude_deg,ellipsoidal_height_m${',x'.repeat(200_000)}\nA,1,2,3\n`);
    const header = await run(REDUCE);
    expect(header.stderr).toMatch(/\d{6} more like it.*\[csv-duplicate-column\]/u);
    expect(header.exit).toBe(3);
    put('found.geojson', `{"type":"FeatureCollection","features":[${'1,'.repeat(200_000)}1]}`);
    expect((await run(['reduce-points', 'found.geojson', '-s', 'session.toml'])).exit).toBe(3);
    put(
      'found.toml',
      `version = 1\n${Array.from({ length: 150_000 }, (_, index) => `k${String(index)} = 1\n`).join('')}`,
    );
    expect((await run(['reduce-points', 'fixes.csv', '-s', 'found.toml'])).exit).toBe(2);
  });

  it('control characters of a cell, a path and an option reached the terminal', async () => {
    put('found.csv', 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nA,\u001b[2Jx\u202e,21.4,1000\n');
    for (const argv of [
      REDUCE,
      ['reduce-points', '\u001b[31m.csv', '-s', 'session.toml'],
      ['completion', '\u001b[31m'],
      ['\u009b31m'],
    ]) {
      const { stderr, exit } = await run(argv);
      expect(exit).toBeGreaterThanOrEqual(2);
      expect(stderr).not.toMatch(/[\u001b\u009b\u202e]/u);
      expect(stderr).toMatch(/\\u00(?:1|9)b/u);
    }
  });

  it('a cell as long as a file was printed whole', async () => {
    put(
      'found.csv',
      `point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nA,${'9'.repeat(3_000_000)},21.4,1000\n`,
    );
    const { stderr, exit } = await run([...REDUCE, '--problems', 'problems.jsonl', '--force']);
    expect(exit).toBe(3);
    expect(stderr.length).toBeLessThan(10_000);
  });

  it('settings in another encoding were read with replacement characters', async () => {
    writeFileSync(join(folder, 'found.toml'), Buffer.from('version = 1\ntitle = "Böschung"\n', 'latin1'));
    const { stderr, exit } = await run(['reduce-points', 'fixes.csv', '-s', 'found.toml']);
    expect(stderr).toContain('[file-encoding]');
    expect(exit).toBe(3);
  });

  it.each(['1e300', '-1', '253402300800', 'soon'])(
    'SOURCE_DATE_EPOCH of %s wrote a time that is none',
    async (seconds) => {
      const { exit } = await run(['describe-system', 'EPSG:2049', '--record', `record-${seconds}.json`], {
        SOURCE_DATE_EPOCH: seconds,
      });
      expect(exit).toBe(0);
      const { readFileSync } = await import('node:fs');
      const record = JSON.parse(readFileSync(join(folder, `record-${seconds}.json`), 'utf8')) as Record<
        string,
        unknown
      >;
      expect(record['schema']).toBe('pegbook-run-record');
      expect(record['time_utc']).toBeUndefined();
    },
  );
});
