import { createHash } from 'node:crypto';
import { cpSync, existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import * as zlib from 'node:zlib';
import { parse } from 'csv-parse/sync';
import { afterAll, afterEach, beforeAll, describe, expect, it, vi } from 'vitest';
import { duckdb } from '../../support/duckdb.js';
import { ROOT } from '../../support/repository-files.js';
import { runInProcess } from '../../support/run-in-process.js';
import type { RunResult } from '../../support/run-in-process.js';

// DuckDB reads what we write and writes what we read: it shares no code with the packages that we read and write with.
let folder = '';
const at = (name: string): string => join(folder, name);
const run = (...argv: readonly string[]): Promise<RunResult> => runInProcess(argv, { cwd: folder });
const reduce = (input: string, output: string): Promise<RunResult> =>
  run('reduce-points', input, '--session', 'session.toml', '-o', output, '-q', '--force');
const hasZstd = 'zstdDecompressSync' in zlib;

beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-parquet-'));
  cpSync(join(ROOT, 'examples', 'quillback-pan'), folder, { recursive: true });
  expect((await reduce('fixes.csv', 'day.csv')).exit).toBe(1);
  expect((await reduce('fixes.csv', 'day.parquet')).exit).toBe(1);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});
afterEach(() => {
  vi.doUnmock('hyparquet');
  vi.doUnmock('hyparquet-writer');
});

/** A value as the text that the CSV has. */
function textOf(value: unknown, type: string): string {
  if (value === null) return '';
  // DuckDB's own classes write their values as text.
  if (!type.startsWith('TIMESTAMP')) return (value as string | bigint | { toString(): string }).toString();
  const { micros } = value as { readonly micros: bigint };
  return new Date(Number(micros / 1000n)).toISOString().replace('.000Z', 'Z');
}

describe('a table in Parquet, read by DuckDB', () => {
  it('has every text of the CSV of the same run, and types of its columns', async () => {
    const [names = [], ...rows]: string[][] = parse(readFileSync(at('day.csv')));
    const read = await duckdb(`SELECT * FROM '${at('day.parquet')}'`);
    expect(read.names).toEqual(names);
    expect(read.rows.length).toBeGreaterThan(30);
    expect(read.rows.map((row) => row.map((value, index) => textOf(value, read.types[index] ?? '')))).toEqual(rows);
    const types = Object.fromEntries(read.names.map((name, index) => [name, read.types[index]]));
    expect(types).toMatchObject({
      point_id: 'VARCHAR',
      occupation: 'VARCHAR',
      southing_m: 'DECIMAL(18,4)',
      latitude_deg: 'DECIMAL(18,9)',
      first_epoch_utc: 'TIMESTAMP WITH TIME ZONE',
      epochs_used: 'BIGINT',
      verdict: 'VARCHAR',
    });
  });

  it('says unit and meaning of its columns, and the digest of its rows as CSV', async () => {
    const { rows } = await duckdb(`SELECT decode(key), decode(value) FROM parquet_kv_metadata('${at('day.parquet')}')`);
    const said = new Map(rows as unknown as readonly (readonly [string, string])[]);
    expect(said.get('pegbook.csv_sha256')).toBe(
      createHash('sha256')
        .update(readFileSync(at('day.csv')))
        .digest('hex'),
    );
    const columns = JSON.parse(said.get('pegbook.columns') ?? '') as readonly Record<string, string>[];
    expect(columns).toContainEqual({
      name: 'latitude_deg',
      unit: 'deg',
      holds: expect.stringMatching(/./u) as unknown,
    });
    expect(columns).toHaveLength(34);
  });

  it('is written by --epochs too, with --select as it is asked for, and has its own digest in the record', async () => {
    const epochs = ['--session', 'session.toml', '-q', '--select', 'point_id,southing_m', '--decimals', 'southing_m=2'];
    const done = await run(
      'reduce-points',
      'fixes.csv',
      ...epochs,
      '-o',
      'v.parquet',
      '--epochs',
      'e.parquet',
      '--record',
      'v.json',
    );
    expect(done).toMatchObject({ exit: 1, stderr: '' });
    const view = await duckdb(`SELECT * FROM '${at('v.parquet')}'`);
    expect([view.names, view.types]).toEqual([
      ['point_id', 'southing_m'],
      ['VARCHAR', 'DECIMAL(18,2)'],
    ]);
    const [[count]] = (await duckdb(`SELECT count(*) FROM '${at('e.parquet')}'`)).rows as unknown as [[bigint]];
    expect(Number(count)).toBe(2721);
    const { outputs } = JSON.parse(readFileSync(at('v.json'), 'utf8')) as { outputs: readonly { sha256: string }[] };
    expect(outputs.map(({ sha256 }) => sha256)).toContain(
      createHash('sha256')
        .update(readFileSync(at('v.parquet')))
        .digest('hex'),
    );
  });
});

describe('a table in Parquet, read by us', () => {
  it.each([
    ['transform', '--from', 'EPSG:2049', '--to', 'EPSG:4148'],
    ['transform', '--from', 'EPSG:2049', '--to', 'EPSG:4148', '--delimiter', ';', '--encoding', 'utf-16le'],
    ['check-tolerances', '--session', 'session.toml', '--control', 'control.csv'],
  ])('%s gives the bytes that it gives of the CSV: %s %s %s %s', async (command, ...options) => {
    // How a CSV file is read says nothing of Parquet.
    const plain = options.slice(0, 4);
    const csv = await run(command, 'day.csv', ...plain);
    const parquet = await run(command, 'day.parquet', ...options);
    expect(csv.stdout.length).toBeGreaterThan(1000);
    expect(parquet.stdout.equals(csv.stdout)).toBe(true);
    expect(parquet.stderr.replaceAll('day.parquet', 'day.csv')).toBe(csv.stderr);
    expect(parquet.exit).toBe(csv.exit);
  });

  const copy = (select: string, file: string, options = ''): Promise<unknown> =>
    duckdb(`COPY (${select}) TO '${at(file)}' (FORMAT parquet${options})`);

  it('is that of DuckDB: fixes of text, and of its own types, packed as it packs them', async () => {
    const fixes = at('fixes.csv');
    await copy(`SELECT * FROM read_csv('${fixes}', all_varchar = true)`, 'text.parquet');
    for (const codec of ['snappy', 'gzip', 'brotli', 'uncompressed', 'zstd'])
      await copy(
        `SELECT * FROM read_csv('${fixes}')`,
        `${codec}.parquet`,
        `, COMPRESSION ${codec}, ROW_GROUP_SIZE 2048`,
      );
    for (const name of ['text', 'snappy', 'gzip', 'brotli', 'uncompressed', ...(hasZstd ? ['zstd'] : [])]) {
      expect(await reduce(`${name}.parquet`, `${name}.csv`)).toMatchObject({ exit: 1, stderr: '' });
      expect(readFileSync(at(`${name}.csv`)).equals(readFileSync(at('day.csv'))), name).toBe(true);
    }
    if (!hasZstd) expect((await reduce('zstd.parquet', 'zstd.csv')).stderr).toContain('[parquet-codec]');
    await copy(`SELECT * FROM read_csv('${fixes}')`, 'lz4.parquet', ', COMPRESSION lz4_raw');
    expect(await reduce('lz4.parquet', 'lz4.csv')).toMatchObject({ exit: 3 });
    expect(existsSync(at('lz4.csv'))).toBe(false);
  });

  it('has the text of each type', async () => {
    const values: readonly (readonly [string, string])[] = [
      ['1.5::DOUBLE', '1.5'],
      ['0.1::DOUBLE', '0.1'],
      ['1e-7::DOUBLE', '1e-7'],
      ['0.25::FLOAT', '0.25'],
      ['-7::TINYINT', '-7'],
      ['4000000000::UINTEGER', '4000000000'],
      ['18446744073709551615::UBIGINT', '18446744073709551615'],
      ['-9223372036854775807::BIGINT', '-9223372036854775807'],
      ['-0.05::DECIMAL(4,2)', '-0.05'],
      ['12.50::DECIMAL(9,2)', '12.50'],
      ['123456789012.345678::DECIMAL(18,6)', '123456789012.345678'],
      ['-12345678901234567890123456.789::DECIMAL(38,3)', '-12345678901234567890123456.789'],
      ['\'a, "b"\'::VARCHAR', 'a, "b"'],
      ["'Ž 高'::VARCHAR", 'Ž 高'],
      ['NULL::DOUBLE', ''],
      ['true', 'true'],
      ["DATE '2026-03-04'", '2026-03-04'],
      ["DATE '1969-12-31'", '1969-12-31'],
      ["TIME '05:02:00.25'", '05:02:00.250'],
      ["TIMESTAMPTZ '2026-03-04 05:02:00+00'", '2026-03-04T05:02:00Z'],
      ["TIMESTAMPTZ '1969-12-31 23:59:59.5+00'", '1969-12-31T23:59:59.500Z'],
      ["TIMESTAMP '2026-03-04 05:02:00.000001'", '2026-03-04T05:02:00.000001'],
      ["TIMESTAMP_NS '2026-03-04 05:02:00.000000001'", '2026-03-04T05:02:00.000000001'],
      ["TIMESTAMP_S '2026-03-04 05:02:00'", '2026-03-04T05:02:00'],
      ["'6ba7b810-9dad-11d1-80b4-00c04fd430c8'::UUID", '6ba7b810-9dad-11d1-80b4-00c04fd430c8'],
    ];
    await copy(
      `SELECT 'P1' AS point_id, -31.5 AS latitude_deg, 21.4 AS longitude_deg, TIMESTAMP '2026-03-04 05:02:00' AS seen_utc, ${values.map(([sql], index) => `${sql} AS v${String(index)}`).join(', ')}`,
      'types.parquet',
    );
    const { stdout, exit } = await run('transform', 'types.parquet', '--from', 'EPSG:4326', '--to', 'EPSG:32734');
    expect(exit).toBe(0);
    const [header = [], row = []]: string[][] = parse(stdout);
    const cell = (name: string): string | undefined => row[header.indexOf(name)];
    expect(values.map((_, index) => cell(`v${String(index)}`))).toEqual(values.map(([, text]) => text));
    // A time without a zone is of UTC where its name says so.
    expect(cell('seen_utc')).toBe('2026-03-04T05:02:00Z');
  });

  it('refuses what is no cell, and says where it is', async () => {
    const place = "SELECT 'P' || i AS point_id, -31.5 AS latitude_deg, 21.4 AS longitude_deg";
    const faults: readonly (readonly [string, RegExp])[] = [
      [`${place}, [1, 2] AS parts FROM range(3) t(i)`, /the column parts is of a type .*LIST.*\[parquet-column\]/u],
      [`${place}, {'a': 1} AS parts FROM range(3) t(i)`, /the column parts is of a type .*\[parquet-column\]/u],
      [
        `${place}, INTERVAL 1 DAY AS long FROM range(3) t(i)`,
        /the column long is of a type .*INTERVAL.*\[parquet-column\]/u,
      ],
      [
        `${place}, CASE WHEN i = 5000 THEN 'nan'::DOUBLE ELSE 1 END AS pdop FROM range(6000) t(i)`,
        /row 5001 of pdop holds NaN, .*\[value-out-of-range\]/u,
      ],
      [
        `SELECT 'P' || i AS point_id, CASE WHEN i = 1 THEN 'x' ELSE '1' END AS latitude_deg, 21.4 AS longitude_deg FROM range(3) t(i)`,
        /^fault\.parquet:3:.*latitude_deg.*\[[a-z-]+\]/mu,
      ],
    ];
    for (const [select, message] of faults) {
      await copy(select, 'fault.parquet');
      const { exit, stderr } = await run(
        'transform',
        'fault.parquet',
        '--from',
        'EPSG:4326',
        '--to',
        'EPSG:32734',
        '-o',
        'fault.csv',
      );
      expect(stderr).toMatch(message);
      expect([exit, existsSync(at('fault.csv'))]).toEqual([3, false]);
    }
  });
});

describe('a Parquet file that is broken', () => {
  const bytes = (): Buffer => readFileSync(at('day.parquet'));
  const transform = (): Promise<RunResult> =>
    run('transform', 'broken.parquet', '--from', 'EPSG:2049', '--to', 'EPSG:4148', '-o', 'broken.csv', '--force');

  it('is refused wherever it is cut off', async () => {
    const whole = bytes();
    for (let part = 0; part < 24; part += 1) {
      writeFileSync(at('broken.parquet'), whole.subarray(0, Math.floor((part * whole.length) / 24)));
      const { exit, stderr } = await transform();
      expect(stderr).toContain('[parquet-invalid]');
      expect([exit, existsSync(at('broken.csv'))]).toEqual([3, false]);
    }
  });

  it('gives the same rows or none where one of its bytes is another', async () => {
    const whole = bytes();
    const sound = (await run('transform', 'day.parquet', '--from', 'EPSG:2049', '--to', 'EPSG:4148')).stdout;
    let refused = 0;
    for (let at_ = 5; at_ < whole.length; at_ += 173) {
      const changed = Buffer.from(whole);
      changed[at_] = (changed[at_] ?? 0) ^ 0x11;
      writeFileSync(at('broken.parquet'), changed);
      const { exit, stderr } = await transform();
      if (exit >= 2) {
        refused += 1;
        expect(stderr, String(at_)).toMatch(/\[[a-z-]+\]/u);
        expect(existsSync(at('broken.csv'))).toBe(false);
        continue;
      }
      expect(readFileSync(at('broken.csv')).equals(sound), String(at_)).toBe(true);
      rmSync(at('broken.csv'));
    }
    expect(refused).toBeGreaterThan(20);
    expect(readdirSync(folder).filter((name) => name.endsWith('.tmp'))).toEqual([]);
  });

  it.each(['uncompressed', 'snappy'])('is refused where a run is longer than its page: %s', async (codec) => {
    const rows = "SELECT 'P' || (i % 4) AS point_id, '1' AS westing_m, '2' AS southing_m FROM range(2000) t(i)";
    await duckdb(`COPY (${rows}) TO '${at('runs.parquet')}' (FORMAT parquet, COMPRESSION ${codec})`);
    const whole = readFileSync(at('runs.parquet'));
    // All 2000 rows of a column have a value: one run of them, 4000 as a number of seven bits a byte, before the value 1.
    const head = whole.indexOf(Buffer.from([3, 0, 0, 0, 0xa0, 0x1f, 1]));
    expect(head).toBeGreaterThan(0);
    whole[head + 4] = 0xfe;
    whole[head + 5] = 0x7f;
    writeFileSync(at('broken.parquet'), whole);
    const { exit, stderr } = await transform();
    expect(exit).toBe(3);
    expect(stderr).toContain('a run of 8191 values where 2000 are left, in the page that ends at byte');
    expect(stderr).toContain('of its column (point_id)');
    expect(existsSync(at('broken.csv'))).toBe(false);
  });
});

describe('what cannot be written as Parquet', () => {
  it.each([
    [['--format', 'json', '-o', 'x.parquet'], 'say two forms'],
    [['--omit-header', '-o', 'x.parquet'], 'the names of its columns'],
    [['--on-error', 'skip', '--rejects', 'x.parquet', '-o', 'x.csv'], 'is no table'],
    [['--record', 'x.parquet', '-o', 'x.csv'], '--record x.parquet: the run record is JSON'],
    [['--problems', 'x.parquet', '-o', 'x.csv'], '--problems x.parquet: problems are lines of JSON'],
    [['--report', 'x.parquet', '-o', 'x.csv'], '--report x.parquet: a page is HTML'],
  ])('%s', async (options, message) => {
    const { exit, stderr } = await run('reduce-points', 'fixes.csv', '--session', 'session.toml', ...options);
    expect(stderr).toContain(message);
    expect([exit, existsSync(at('x.parquet')), existsSync(at('x.csv'))]).toEqual([2, false, false]);
  });

  it('is what is no table', async () => {
    const { exit, stderr } = await run('merge-records', 'v.json', '-o', 'x.parquet');
    expect([exit, existsSync(at('x.parquet'))]).not.toEqual([0, true]);
    expect(stderr).toMatch(/\[[a-z-]+\]/u);
  });
});

describe('without the packages', () => {
  it('says which are missing and how they are installed, and leaves nothing', async () => {
    vi.resetModules();
    vi.doMock('hyparquet', () => {
      throw new Error('none');
    });
    vi.doMock('hyparquet-writer', () => {
      throw new Error('none');
    });
    const { runInProcess: runAnew } = await import('../../support/run-in-process.js');
    const from = ['--from', 'EPSG:2049', '--to', 'EPSG:4148'];
    const read = await runAnew(['transform', 'day.parquet', ...from], { cwd: folder });
    const written = await runAnew(['transform', 'day.csv', ...from, '-o', 'none.parquet'], { cwd: folder });
    for (const { exit, stderr, stdout } of [read, written]) {
      expect(stderr).toContain('[parquet-package-missing]');
      expect(stderr).toContain('npm install hyparquet hyparquet-writer');
      expect([exit, stdout.length]).toEqual([4, 0]);
    }
    expect(existsSync(at('none.parquet'))).toBe(false);
  });
});
