import { cpSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, it } from 'vitest';
import { ROOT, textOf } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

const FOLDER = 'examples/quillback-pan-days';
const KEPT = `${FOLDER}/expected-points.csv`;
/** What generate.mjs plants: C3 moves on the fifth day and stays, 45 mm east and 60 mm down. */
const MOVED = { pointId: 'C3', day: '2026-05-15', eastM: 0.045, upM: -0.06 };
const FIRST_MOVED = 5;
type Row = Readonly<Record<string, string>>;

const folder = mkdtempSync(join(tmpdir(), 'pegbook-days-'));
cpSync(join(ROOT, FOLDER), folder, { recursive: true });
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const rowsOf = (text: string): readonly Row[] => parse<Row>(text, { columns: true });

async function register(
  text: string,
  ...more: readonly string[]
): Promise<{ exit: number; rows: readonly Row[]; said: string }> {
  writeFileSync(join(folder, 'in.csv'), text);
  const words = ['check-tolerances', 'in.csv', '--job', 'job.toml', '--register', ...more];
  const { exit, stdout, stderr } = await runInProcess(words, { cwd: folder });
  return { exit, rows: rowsOf(stdout.toString('utf8')), said: stderr };
}

/** The points with every westing and southing of some rows moved, metres. */
function shifted(rows: readonly Row[], of: (row: Row) => readonly [westM: number, southM: number]): string {
  const names = Object.keys(rows[0] ?? {});
  const lines = rows.map((row) => {
    const [westM, southM] = of(row);
    const moved: Row = {
      ...row,
      westing_m: (Number(row['westing_m']) + westM).toFixed(4),
      southing_m: (Number(row['southing_m']) + southM).toFixed(4),
      // The pair is what is moved; the two must not contradict each other.
      latitude_deg: '',
      longitude_deg: '',
    };
    return names.map((name) => moved[name] ?? '').join(',');
  });
  return `${[names.join(','), ...lines].join('\n')}\n`;
}

const dayOf = (row: Row): string => (row['occupation'] ?? '').split('/')[0] ?? '';
const isControl = (row: Row): boolean => (row['point_id'] ?? '').startsWith('C');
const moved = (rows: readonly Row[]): readonly Row[] => rows.filter((row) => row['verdict'] === 'no');

describe('the eight invented days', () => {
  it('have the kept points that the reduction makes', async () => {
    const { exit } = await runInProcess(['reduce-points', '--job', 'job.toml', '-o', 'made.csv', '-q'], {
      cwd: folder,
    });
    // The occupations of C3 disagree.
    expect(exit).toBe(1);
    const made = readFileSync(join(folder, 'made.csv'), 'utf8');
    if (process.env['UPDATE'] === '1') writeFileSync(join(ROOT, KEPT), made);
    expect(made === textOf(KEPT), `${KEPT} is not what the reduction makes: UPDATE=1 writes it anew`).toBe(true);
  });

  it('have one mark that moved, from the day it did, by as much as it did', async () => {
    const { exit, rows, said } = await register(textOf(KEPT));
    expect(exit).toBe(1);
    const found = moved(rows);
    expect(found.map((row) => [row['what'], row['point_id'], row['axis'], row['moved_from_day']])).toEqual([
      ['mark', MOVED.pointId, 'westing', MOVED.day],
      ['mark', MOVED.pointId, 'height', MOVED.day],
    ]);
    // The westing grows to the west.
    for (const [row, truth] of [
      [found[0], -MOVED.eastM],
      [found[1], MOVED.upM],
    ] as const)
      expect(Math.abs(Number(row?.['moved_m']) - truth)).toBeLessThan(3.3 * Number(row?.['moved_sigma_m']));
    expect(said).toContain('C3 lies');
    expect(said).not.toContain('all marks seen from it');
  });

  it('tell a base that moves from a mark that does', async () => {
    const rows = rowsOf(textOf(KEPT)).filter((row) => row['point_id'] !== MOVED.pointId);
    const isLate = (row: Row): boolean => dayOf(row) >= `2026-05-1${String(FIRST_MOVED)}`;
    // All that was measured from the fifth day on lies 4 cm farther west and south.
    const base = await register(shifted(rows, (row) => (isLate(row) ? [0.04, 0.04] : [0, 0])));
    expect(base.exit).toBe(1);
    expect(moved(base.rows).map((row) => [row['what'], row['point_id'], row['axis'], row['moved_from_day']])).toEqual([
      ['base', 'B1', 'westing', '2026-05-15'],
      ['base', 'B1', 'southing', '2026-05-15'],
    ]);
    expect(base.said).toContain('base B1: all marks seen from it lie');
    const mark = await register(
      shifted(rows, (row) => (isLate(row) && row['point_id'] === 'C2' ? [0.04, 0.04] : [0, 0])),
    );
    expect(moved(mark.rows).map((row) => [row['what'], row['point_id'], row['axis']])).toEqual([
      ['mark', 'C2', 'westing'],
      ['mark', 'C2', 'southing'],
    ]);
  });

  it('are within where nothing moved', async () => {
    const still = rowsOf(textOf(KEPT)).filter((row) => row['point_id'] !== MOVED.pointId);
    const { exit, rows, said } = await register(shifted(still, () => [0, 0]));
    expect(exit).toBe(0);
    expect(rows.filter(isControl)).toHaveLength(9);
    expect(said).toContain('no mark and no base has moved');
  });

  it('have the statistics of each mark that its residuals give', async () => {
    const { exit, said } = await register(textOf(KEPT), '-o', 'register.json', '--record', 'record.json', '--force');
    expect(exit, said).toBe(1);
    const document = JSON.parse(readFileSync(join(folder, 'register.json'), 'utf8')) as {
      readonly register: readonly Record<string, number | string | null>[];
      readonly values: readonly { what: string; point_id: string; axis: string; residual_m: number }[];
    };
    for (const row of document.register) {
      const own = document.values
        .filter(
          ({ what, point_id: id, axis }) => what === row['what'] && id === row['point_id'] && axis === row['axis'],
        )
        .map(({ residual_m: value }) => value);
      const mean = own.reduce((sum, value) => sum + value, 0) / own.length;
      const square = own.reduce((sum, value) => sum + (value - mean) ** 2, 0) / (own.length - 1);
      // Residuals are written to a tenth of a millimetre.
      expect(Math.abs(Number(row['mean_m']) - mean)).toBeLessThan(1.1e-4);
      expect(Math.abs(Number(row['spread_m']) - Math.sqrt(square))).toBeLessThan(1.5e-4);
    }
    const record = JSON.parse(readFileSync(join(folder, 'record.json'), 'utf8')) as Record<string, unknown>;
    expect(record['verdict']).toBe('no');
    expect(record['reason_counts']).toMatchObject({ 'register-moved': 2 });
    expect(record['exit_code']).toBe(1);
  });

  it.each([
    [['--repeats'], '--repeats does not go with --register'],
    [['--standard', 'nssda'], '--standard does not go with --register'],
    [['--limit-horizontal', '0.05'], '--limit-horizontal does not go with --register'],
  ])('are not judged by %s beside', async (words, message) => {
    const { exit, said } = await register(textOf(KEPT), ...words);
    expect(exit).toBe(2);
    expect(said).toContain(message);
  });

  it('refuse what is of no day of the job, of several, or of one alone', async () => {
    const header = textOf(KEPT).split('\n')[0] ?? '';
    const all = textOf(KEPT).split('\n').slice(1, -1);
    const first = all.filter((line) => line.includes('2026-05-11/'));
    expect((await register([header, ...first, ''].join('\n'))).said).toContain('[check-too-few-rows]');
    const other = all.map((line) => line.replace('2026-05-18/', '2026-06-18/'));
    expect((await register([header, ...other, ''].join('\n'))).said).toContain(
      'is of no day of the job, or of several',
    );
    const joined = all.map((line) => line.replace('2026-05-18/1', '2026-05-17/1+2026-05-18/1'));
    expect((await register([header, ...joined, ''].join('\n'))).said).toContain('[value-unknown-id]');
    const named = all.map((line) => line.replace(',B1,', ',B9,'));
    expect((await register([header, ...named, ''].join('\n'))).said).toContain('[base-unknown]');
  });
});
