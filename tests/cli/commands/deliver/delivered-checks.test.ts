import { cpSync, mkdtempSync, readFileSync, readdirSync, rmSync, statSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { spawnSync } from 'node:child_process';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../../support/repository-files.js';
import { runInProcess } from '../../../support/run-in-process.js';
import { unzipped } from '../../../support/unzipped.js';

// A job whose checks and adjustment go with it.
const folder = mkdtempSync(join(tmpdir(), 'delivered-checks-'));
const at = (...names: readonly string[]): string => join(folder, ...names);
const run = async (words: string, seconds = '1778700000'): Promise<{ exit: number; stderr: string }> =>
  runInProcess(words.split(' '), { cwd: folder, env: { SOURCE_DATE_EPOCH: seconds } });
const filesOf = (path: string): readonly string[] =>
  readdirSync(path, { recursive: true, encoding: 'utf8' })
    .filter((name) => statSync(join(path, name)).isFile())
    .sort();
const rowsOf = (path: string): readonly Record<string, string>[] => parse(readFileSync(path), { columns: true });
const hasProgram = spawnSync('sha256sum', ['--version']).status === 0;
const text = (html: string): string =>
  html
    .replaceAll(/<wbr>|<\/?(?:span|bdi)[^>]*>/gu, '')
    .replaceAll(/<[^>]*>/gu, ' ')
    .replaceAll(/\s+/gu, ' ');

beforeAll(async () => {
  cpSync(join(ROOT, 'examples/quillback-pan-job'), at('job'), { recursive: true });
  cpSync(join(ROOT, 'examples/quillback-pan'), at('quillback-pan'), { recursive: true });
  const limits = '--limit-horizontal 0.08 --limit-vertical 0.15';
  for (const words of [
    'reduce-points --job job/job.toml -o job/points.csv --record job/run.json --report job/days.html',
    'reduce-points --job job/job.toml -o job/map.geojson --record job/map.json',
    `check-tolerances job/points.csv --job job/job.toml --repeats ${limits} -o job/checks.csv --record job/checks.json --report job/checks.html`,
    'check-tolerances job/points.csv --job job/job.toml --register -o job/register.csv --record job/register.json',
    'adjust-network job/points.csv --job job/job.toml -o job/network.csv --record job/network.json --report job/network.html',
  ]) {
    const { exit, stderr } = await run(words);
    expect(exit, stderr).toBe(0);
  }
  const { exit, stderr } = await run('deliver --job job/job.toml -o delivery --points job/points.csv');
  expect(exit, stderr).toBe(0);
}, 120_000);
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('a delivery with checks', () => {
  it('has the tables, pages and records of every run beside the coordinates', () => {
    expect(filesOf(at('delivery/data'))).toEqual(
      [
        'coordinates.csv',
        'coordinates.geojson',
        'digests.csv',
        'front-sheet.html',
        'job-ledger.jsonl',
        ...['checks.json', 'map.json', 'network.json', 'register.json', 'run.json'].map((name) => `records/${name}`),
        ...['checks.html', 'days.html', 'network.html'].map((name) => `reports/${name}`),
        ...['checks.csv', 'map.geojson', 'network.csv', 'points.csv', 'register.csv'].map((name) => `tables/${name}`),
      ].sort(),
    );
  });

  it('says on its front sheet what each check answered, by which limits, and which base stood on which day', () => {
    const sheet = text(readFileSync(at('delivery/data/front-sheet.html'), 'utf8'));
    expect(sheet).toContain(
      'check against control and repeats (check-tolerances) within: 25 within by limit in plan 0.08 m; limit in height 0.15 m',
    );
    expect(sheet).toContain('adjustment of the network (adjust-network) review');
    expect(sheet).toContain('B1 (2026-03-09, 2026-03-10)');
    expect(sheet).toContain('B2 (2026-03-11)');
  });

  it.skipIf(!hasProgram)('is verified by anyone with sha256sum, and a changed byte is found', () => {
    const verify = (): ReturnType<typeof spawnSync> =>
      spawnSync('sha256sum', ['--quiet', '-c', 'manifest-sha256.txt', 'tagmanifest-sha256.txt'], {
        cwd: at('delivery'),
      });
    const path = at('delivery/data/tables/checks.csv');
    const before = readFileSync(path);
    expect(verify().status).toBe(0);
    writeFileSync(path, Buffer.concat([before, Buffer.from(' ')]));
    expect(verify().status).toBe(1);
    writeFileSync(path, before);
  });

  it('is the same bytes at another time, as a folder and as a ZIP file', async () => {
    const words = (to: string): string => `deliver --job job/job.toml -o ${to} --points job/points.csv`;
    expect((await run(words('again'), '1900000000')).exit).toBe(0);
    expect((await run(words('delivery.zip'), '1900000000')).exit).toBe(0);
    const zip = readFileSync(at('delivery.zip'));
    const inside = new Map(unzipped(zip).map(({ path, text: content }) => [path, content]));
    expect(inside.size).toBe(filesOf(at('delivery')).length);
    for (const name of filesOf(at('delivery'))) {
      const bytes = readFileSync(at('delivery', name));
      expect(readFileSync(at('again', name)).equals(bytes), name).toBe(true);
      expect(inside.get(`delivery/${name}`), name).toBe(bytes.toString('utf8'));
    }
    expect((await run(`${words('delivery.zip')} --force`, '1950000000')).exit).toBe(0);
    expect(readFileSync(at('delivery.zip')).equals(zip)).toBe(true);
  });
});

describe('the points of a delivery', () => {
  it('may be those that were written as GeoJSON, with the same digits', async () => {
    expect((await run('deliver --job job/job.toml -o mapped --points job/map.geojson')).exit).toBe(0);
    expect(rowsOf(at('mapped/data/coordinates.csv'))).toEqual(rowsOf(at('delivery/data/coordinates.csv')));
  });

  it('may be those of the adjustment', async () => {
    expect((await run('deliver --job job/job.toml -o adjusted --points job/network.csv')).exit).toBe(0);
    const adjusted = rowsOf(at('job/network.csv'));
    const list = rowsOf(at('adjusted/data/coordinates.csv'));
    expect(list.map((row) => [row['point_id'], row['westing_m'], row['circle_95_m']])).toEqual(
      adjusted.map((row) => [row['point_id'], row['westing_m'], row['circle_95_m']]),
    );
  });
});

describe('two set-ups of one base id', () => {
  it('are told apart in the record, and on the front sheet by their times', async () => {
    cpSync(join(ROOT, 'examples/quillback-pan-days'), at('days'), { recursive: true });
    const job = readFileSync(at('days/job.toml'), 'utf8');
    const [base = ''] = /\[\[shared\.base\]\][^[]*/u.exec(job) ?? [];
    const half = (end: string): string => base.replace('id = "B1"', `id = "B1"\n${end} = "2026-05-15T00:00:00Z"`);
    writeFileSync(at('days/job.toml'), job.replace(base, `${half('to_utc')}${half('from_utc')}`));
    expect((await run('reduce-points --job days/job.toml -o days/p.csv --record days/r.json')).exit).toBe(1);
    const { settings } = JSON.parse(readFileSync(at('days/r.json'), 'utf8')) as { settings: { key: string }[] };
    const keys = settings.map(({ key }) => key);
    expect(new Set(keys).size).toBe(keys.length);
    expect(keys.filter((key) => /^day\.2026-05-11\.base\..*\.id$/u.test(key)).sort()).toEqual([
      'day.2026-05-11.base.B1#2.id',
      'day.2026-05-11.base.B1.id',
    ]);
    const delivered = await run('deliver --job days/job.toml -o halves');
    expect(delivered.exit, delivered.stderr).toBe(0);
    const sheet = text(readFileSync(at('halves/data/front-sheet.html'), 'utf8'));
    expect(sheet).toContain('B1 to 2026-05-15T00:00:00Z');
    expect(sheet).toContain('B1 from 2026-05-15T00:00:00Z');
  });
});
