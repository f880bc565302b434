import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { DAY_COUNT, MONTH_SEED, MOVED_FROM, monthFiles } from '../../examples/quillback-pan-month/generate.mjs';
import { ROOT, textOf } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

const FOLDER = 'examples/quillback-pan-month';
type Row = Readonly<Record<string, string>>;

describe('the invented month', () => {
  const files = monthFiles(MONTH_SEED);
  let points: readonly Row[] = [];
  let said = '';
  let written = '';

  beforeAll(async () => {
    const { stdout, stderr } = await runInProcess(['reduce-points', '--job', 'job.toml'], { cwd: join(ROOT, FOLDER) });
    written = stdout.toString('utf8');
    points = parse<Row>(written, { columns: true });
    said = stderr;
  });

  it('has the files that its generator writes for the seed', () => {
    for (const [name, text] of Object.entries(files))
      expect(textOf(`${FOLDER}/${name}`) === text, `${name} is not what node ${FOLDER}/generate.mjs writes`).toBe(true);
  });

  it('is thirty days in one command, each with its five points', () => {
    expect(said.split('\n').filter((line) => line.startsWith('day 2026-04-'))).toHaveLength(DAY_COUNT);
    expect(points).toHaveLength(5 * DAY_COUNT);
  });

  /** A beacon that is not where it was: the only point of which occupations of many days disagree. */
  it('finds the beacon that moved, and no other', () => {
    const disputed = new Set(
      points.filter((row) => row['reasons']?.includes('point-repeat-disagrees')).map((row) => row['point_id']),
    );
    expect([...disputed]).toEqual(['C-02']);
    expect(MOVED_FROM).toBeLessThan(DAY_COUNT);
  });

  it('has the beacon in its register, from the day that it moved on, by as much as it did', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'pegbook-month-'));
    const job = join(ROOT, FOLDER, 'job.toml');
    writeFileSync(join(folder, 'points.csv'), written);
    const words = ['check-tolerances', 'points.csv', '--job', job, '--register'];
    const { exit, stdout } = await runInProcess(words, { cwd: folder });
    rmSync(folder, { recursive: true });
    expect(exit).toBe(1);
    const rows = parse<Row>(stdout.toString('utf8'), { columns: true });
    const found = rows.filter((row) => row['verdict'] === 'no');
    expect(found.map((row) => [row['what'], row['point_id'], row['axis'], row['moved_from_day']])).toEqual([
      ['mark', 'C-02', 'southing', `2026-04-${String(MOVED_FROM + 1)}`],
    ]);
    // 30 mm to the south, as the generator plants it; the southing grows to the south.
    const [row] = found;
    expect(Math.abs(Number(row?.['moved_m']) - 0.03)).toBeLessThan(3.3 * Number(row?.['moved_sigma_m']));
  });

  it('is the truth within its 95 % figures, in nine of ten', () => {
    const truth = new Map(parse<Row>(files['truth.csv'] ?? '', { columns: true }).map((row) => [row['point_id'], row]));
    const work = points.filter((row) => row['point_id']?.startsWith('QP-'));
    const within = work.filter((row) => {
      const own = truth.get(row['point_id']);
      const off = (name: string): number => Number(row[name]) - Number(own?.[name]);
      return Math.hypot(off('westing_m'), off('southing_m')) <= Number(row['circle_95_m']);
    });
    expect(work).toHaveLength(2 * DAY_COUNT);
    // All share the error of one mark, drawn once.
    expect(within.length / work.length).toBeGreaterThan(0.9);
  });
});
