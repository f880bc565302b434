import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { prepareFolder } from '../../tools/fuzz/fuzz-cases.mjs';
import { runInProcess } from '../support/run-in-process.js';
import type { RunResult } from '../support/run-in-process.js';

const NAMES = ['__proto__', 'constructor', 'prototype', 'toString', 'hasOwnProperty', 'valueOf'];
const HEADER =
  'point_id,epoch_utc,latitude_deg,longitude_deg,ellipsoidal_height_m,solution,correction_age_s,satellites_used,pdop,sigma_east_m,sigma_north_m,sigma_up_m,base_id';
const ROW = '2026-03-04T05:10:00Z,-31.501460000,21.401430000,1043.0265,fixed,1.0,15,1.65,0.003,0.003,0.006,B1';
let folder = '';

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-names-'));
  prepareFolder(folder);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Runs a line and looks whether any object everywhere has changed. */
async function run(argv: readonly string[]): Promise<RunResult> {
  const before = Reflect.ownKeys(Object.prototype).length;
  const result = await runInProcess(argv, { cwd: folder });
  expect(Reflect.ownKeys(Object.prototype)).toHaveLength(before);
  expect(({} as Record<string, unknown>)['polluted']).toBeUndefined();
  return result;
}

describe.each(NAMES)('the name %s', (name) => {
  it('is an identifier of a point like any other', async () => {
    writeFileSync(join(folder, 'names.csv'), `${HEADER}\n${name},${ROW}\nA-1,${ROW}\n`);
    for (const combine of [[], ['--combine']]) {
      const { stdout, exit, stderr } = await run([
        'reduce-points',
        'names.csv',
        '-s',
        'session.toml',
        '--format',
        'json',
        ...combine,
      ]);
      expect(exit, stderr).toBe(1);
      const { points } = JSON.parse(stdout.toString()) as { points: { point_id: string }[] };
      expect(points.map(({ point_id }) => point_id)).toEqual([name, 'A-1']);
    }
  });

  it('is a column that passes through like any other', async () => {
    writeFileSync(join(folder, 'names.csv'), `${HEADER},${name}\nA-1,${ROW},polluted\n`);
    const { stdout } = await run(['reduce-points', 'names.csv', '-s', 'session.toml', '-q']);
    const [head = '', row = ''] = stdout.toString().split('\n');
    expect(head.endsWith(`,${name}`)).toBe(true);
    expect(row.endsWith(',polluted')).toBe(true);
  });

  it('is no column of ours to map, on the command line or in a session', async () => {
    expect((await run(['reduce-points', 'fixes.csv', '-s', 'session.toml', '--columns', `${name}=code`])).exit).toBe(2);
    writeFileSync(
      join(folder, 'names.toml'),
      `version = 1\n[system]\ngrid = "EPSG:2049"\n[columns]\n"${name}" = "code"\n`,
    );
    expect((await run(['reduce-points', 'fixes.csv', '-s', 'names.toml'])).exit).toBe(2);
  });

  it('is no setting', async () => {
    for (const text of [
      `${name} = 1`,
      `[${name}]\npolluted = 1`,
      `[rover.${name}]\npolluted = 1`,
      `[[${name}]]`,
      `rover = { ${name} = { polluted = 1 } }`,
    ]) {
      writeFileSync(join(folder, 'names.toml'), `version = 1\n${text}\n`);
      const { exit, stderr } = await run(['reduce-points', 'fixes.csv', '-s', 'names.toml']);
      expect(exit, text).toBe(2);
      expect(stderr, text).toMatch(/\[config-(?:unknown-key|syntax)\]/u);
    }
  });

  it('is a property of a feature like any other', async () => {
    const properties = `{"${name}":{"polluted":1},"solution":"fixed","base_id":"B1","epoch_utc":"2026-03-04T05:00:00Z"}`;
    writeFileSync(
      join(folder, 'names.geojson'),
      `{"type":"FeatureCollection","${name}":{"polluted":1},"features":[{"type":"Feature","id":"A-1","geometry":{"type":"Point","coordinates":[21.4,-31.5,1043]},"properties":${properties}}]}`,
    );
    const { exit, stdout } = await run([
      'reduce-points',
      'names.geojson',
      '-s',
      'session.toml',
      '--format',
      'geojson',
      '-q',
    ]);
    expect(exit).toBe(1);
    expect(stdout.toString()).toContain(`"${name}":"{\\"polluted\\":1}"`);
  });

  // 2026-11-25: the table of projections answered to the names every object answers to, and the run ended with 70.
  it('is no projection, ellipsoid, datum or unit', async () => {
    for (const text of [
      `+proj=${name}`,
      `+proj=tmerc +lon_0=21 +ellps=${name}`,
      `+proj=tmerc +lon_0=21 +datum=${name}`,
      `+proj=tmerc +lon_0=21 +ellps=WGS84 +units=${name}`,
    ]) {
      expect((await run(['describe-system', text])).exit, text).toBe(2);
    }
  });
});
