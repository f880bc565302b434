import { mkdir, mkdtemp, readFile, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { beforeAll, describe, expect, it } from 'vitest';
import { JOB_SEED, generateJob, jobFiles } from '../../examples/quillback-pan-job/generate.mjs';
import { ROOT, textOf } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';
import type { RunResult } from '../support/run-in-process.js';

const FOLDER = 'examples/quillback-pan-job';
type Row = Readonly<Record<string, string>>;

function rowsOf(text: string): readonly Row[] {
  return parse<Row>(text, { columns: true });
}

/** A copy of the job with another job file, all.toml, and what it rests on. */
async function withJob(change: (job: string) => string): Promise<string> {
  const folder = await mkdtemp(join(tmpdir(), 'pegbook-job-'));
  const own = join(folder, 'job');
  await mkdir(join(folder, 'quillback-pan'));
  await writeFile(join(folder, 'quillback-pan/geoid.csv'), textOf('examples/quillback-pan/geoid.csv'));
  await mkdir(own);
  const files = { ...jobFiles(JOB_SEED) };
  for (const [name, text] of Object.entries({ ...files, 'all.toml': change(files['job.toml'] ?? '') }))
    await writeFile(join(own, name), text);
  return own;
}

async function run(...words: readonly string[]): Promise<RunResult> {
  return runInProcess(words, { cwd: join(ROOT, FOLDER) });
}

describe('the files of the invented job', () => {
  for (const [name, text] of Object.entries(jobFiles(JOB_SEED))) {
    it(`hold what the generator writes for the seed: ${name}`, () => {
      expect(textOf(`${FOLDER}/${name}`) === text, `${name} is not what node ${FOLDER}/generate.mjs writes`).toBe(true);
    });
  }
});

describe('the invented job, reduced', () => {
  const truth = new Map(rowsOf(textOf(`${FOLDER}/truth.csv`)).map((row) => [row['point_id'], row]));
  let points: readonly Row[] = [];
  let alone: readonly Row[] = [];
  let said = '';

  beforeAll(async () => {
    const combined = await run('reduce-points', '--job', 'job.toml', '--combine');
    expect(combined.exit, combined.stderr).toBe(0);
    points = rowsOf(combined.stdout.toString('utf8'));
    said = combined.stderr;
    alone = rowsOf((await run('reduce-points', '--job', 'job.toml')).stdout.toString('utf8'));
  });

  /** Metres off the truth, and the 95 % figures: 3 of 13 beyond them would be one job in 40. */
  it('is the truth within its stated uncertainty', () => {
    const beyond = points.filter((row) => {
      const own = truth.get(row['point_id']);
      const off = (name: string): number => Number(row[name]) - Number(own?.[name]);
      const plan = Math.hypot(off('westing_m'), off('southing_m'));
      return (
        plan > Number(row['circle_95_m']) || Math.abs(off('ellipsoidal_height_m')) > 1.96 * Number(row['sigma_up_m'])
      );
    });
    expect(points).toHaveLength(truth.size);
    expect(beyond.length).toBeLessThanOrEqual(2);
  });

  it('names occupations by their day, in the order of the days', () => {
    const days = alone.map((row) => row['occupation']?.split('/')[0] ?? '');
    expect(days).toEqual([...days].sort());
    expect(alone.filter((row) => row['point_id'] === 'C-02').map((row) => row['occupation'])).toEqual([
      '2026-03-09/1',
      '2026-03-10/1',
      '2026-03-11/1',
      '2026-03-11/2',
    ]);
    expect(points.find((row) => row['point_id'] === 'C-02')?.['occupation']).toBe(
      '2026-03-09/1+2026-03-10/1+2026-03-11/1+2026-03-11/2',
    );
  });

  it('leaves out and renames what the job says, with its reason', () => {
    expect(alone.some((row) => row['point_id'] === 'QP-13')).toBe(false);
    expect(alone.filter((row) => row['point_id'] === 'QP-31')).toHaveLength(2);
    expect(alone.filter((row) => row['point_id'] === 'QP-32').map((row) => row['occupation'])).toEqual([
      '2026-03-09/1',
      '2026-03-10/2',
    ]);
    expect(said).toContain('left out: QP-32 with an occupation 1 on 2026-03-10, 1 occupation: the fix jumped');
    expect(said).toContain('renamed: QP-13 to QP-31 on 2026-03-10, 30 epochs: two digits exchanged');
  });

  // The wrong integers planted there are 0.14 m off: without the exclusion the three stands contradict each other.
  it('finds the stand that is left out, where it is not', async () => {
    const { exit, stderr } = await runInProcess(['reduce-points', '--job', 'all.toml'], {
      cwd: await withJob((job) => job.replace(/\[\[exclude\]\][^[]*/u, '')),
    });
    expect(exit).toBe(1);
    expect(stderr).toContain('repeat of QP-32: 3 occupations');
  });

  it('knows the base of the last day by the peg of the first, and no better', () => {
    const best = points.find((row) => row['point_id'] === 'B2');
    for (const row of alone.filter((one) => one['base_id'] === 'B2'))
      expect(Number(row['sigma_up_m'])).toBeGreaterThan(Number(best?.['sigma_up_m']));
  });
});

/** A base that an earlier day measured: what the reduction takes for its coordinate, the commands after it take too. */
describe('the base of the last day', () => {
  const BASE = 'day.2026-03-11.base.B2.';
  const settingsOf = (record: string): ReadonlyMap<string, unknown> =>
    new Map(
      (JSON.parse(record) as { settings: readonly { key: string; value: unknown }[] }).settings
        .filter(({ key }) => /base\.B2\.(?:known|sigma)/u.test(key))
        .map(({ key, value }) => [key.replace(BASE, 'base.B2.'), value]),
    );

  it.each([
    ['check-tolerances', ['--repeats']],
    ['adjust-network', []],
  ])('is to %s where the reduction has it', async (command, words) => {
    const folder = await withJob((job) => job);
    const at = { cwd: folder };
    await runInProcess(['reduce-points', '--job', 'job.toml', '-o', 'points.csv', '--record', 'reduced.json'], at);
    const { exit, stderr } = await runInProcess(
      [command, 'points.csv', '--job', 'job.toml', ...words, '-o', 'out.csv', '--record', 'record.json'],
      at,
    );
    expect(exit, stderr).toBeLessThan(2);
    const reduced = settingsOf(await readFile(join(folder, 'reduced.json'), 'utf8'));
    expect(reduced.size).toBeGreaterThan(5);
    expect(settingsOf(await readFile(join(folder, 'record.json'), 'utf8'))).toEqual(reduced);
  });
});

describe('the network of the invented job', () => {
  const truth = new Map(rowsOf(textOf(`${FOLDER}/truth.csv`)).map((row) => [row['point_id'], row]));

  it('is the truth within its stated uncertainty, with the peg of the first day as one station', async () => {
    const at = { cwd: await withJob((job) => job) };
    await runInProcess(['reduce-points', '--job', 'job.toml', '-o', 'points.csv'], at);
    const { exit, stdout, stderr } = await runInProcess(['adjust-network', 'points.csv', '--job', 'job.toml'], at);
    expect(exit, stderr).toBe(0);
    expect(stderr).toContain('4 control points');
    expect(stderr).toContain('base B2 is determined by the network');
    const stations = rowsOf(stdout.toString('utf8')).filter((row) => truth.has(row['point_id']));
    expect(stations.map((row) => row['point_id'])).toContain('B2');
    expect(stations).toHaveLength(truth.size);
    const beyond = stations.filter((row) => {
      const own = truth.get(row['point_id']);
      const off = (name: string): number => Number(row[name]) - Number(own?.[name]);
      const plan = Math.hypot(off('westing_m'), off('southing_m'));
      return (
        plan > Number(row['circle_95_m']) || Math.abs(off('ellipsoidal_height_m')) > 1.96 * Number(row['sigma_up_m'])
      );
    });
    // Of 13 stations 2 beyond their 95 % would be one job in twenty-five.
    expect(beyond.length).toBeLessThanOrEqual(2);
  });
});

describe('generateJob', () => {
  it('changes with the seed', () => {
    expect(generateJob(1).known).not.toEqual(generateJob(2).known);
  });
});
