import { spawn } from 'node:child_process';
import { existsSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../support/repository-files.js';
import { runInProcess } from '../../support/run-in-process.js';
import { seededRandom } from '../../support/seeded-random.js';

const BIN = join(ROOT, 'bin', 'pegbook.js');
const BUILT = existsSync(join(ROOT, 'dist', 'program', 'main.js'));
const DAY = join(ROOT, 'examples', 'quillback-pan');
const SESSION = join(DAY, 'session.toml');

interface Part {
  readonly exit: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** A process of its own. */
function program(args: readonly string[], cwd: string): Promise<Part> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [BIN, ...args], { cwd, stdio: ['ignore', 'pipe', 'pipe'] });
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (chunk: Buffer) => (stdout += chunk.toString('utf8')));
    child.stderr.on('data', (chunk: Buffer) => (stderr += chunk.toString('utf8')));
    child.on('error', reject);
    child.on('close', (exit) => {
      resolve({ exit, stdout, stderr });
    });
  });
}

/** Problems and rows without what only a run of the whole says: it alone compares repeats. */
function withoutRepeats(text: string): string {
  return text
    .split('\n')
    .filter((line) => !line.includes('"code":"point-repeat-disagrees"'))
    .join('\n')
    .replaceAll(/,review,point-repeat-disagrees(?:;point-pole-length-changed)?$/gmu, ',accepted,');
}

describe.skipIf(!BUILT)('parts of a file in processes of their own (skipped until npm run build has been run)', () => {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-parts-'));
  const textOf = (name: string): string => readFileSync(join(folder, name), 'utf8');
  const outputs = ['points.csv', 'epochs.csv', 'bad.csv', 'problems.jsonl'];
  const words = (name: string): string[] => [
    ...['reduce-points', 'fixes.csv', '--session', SESSION, '--on-error', 'skip', '--quiet', '--force'],
    ...[
      '--output',
      `${name}-points.csv`,
      '--epochs',
      `${name}-epochs.csv`,
      '--rejects',
      `${name}-bad.csv`,
      '--problems',
      `${name}-problems.jsonl`,
      '--record',
      `${name}-record.json`,
    ],
  ];

  beforeAll(async () => {
    // The invented day with rows that cannot be read, a height out of all range, an epoch out of order, and repeats.
    const lines = readFileSync(join(DAY, 'fixes.csv'), 'utf8').trimEnd().split('\n');
    const random = seededRandom(5);
    for (let i = 0; i < 25; i += 1) {
      const at = 1 + random.index(lines.length - 1);
      const cells = (lines[at] ?? '').split(',');
      if (i % 3 === 0) cells[2] = 'north';
      else if (i % 3 === 1) cells[1] = '2026-03-04T00:00:00Z';
      else cells.push('one cell too many');
      lines[at] = cells.join(',');
    }
    writeFileSync(join(folder, 'fixes.csv'), `${lines.join('\n')}\n`);
    expect((await program(words('whole'), folder)).exit).toBe(1);
    expect(textOf('whole-bad.csv').split('\n').length).toBeGreaterThan(15);
  });
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it('give, one after another, the bytes of the whole, wherever it is cut', async () => {
    const random = seededRandom(11);
    const rows = textOf('fixes.csv').trimEnd().split('\n').length - 1;
    for (let round = 0; round < 3; round += 1) {
      const cuts = [...new Set([...Array.from({ length: 3 }, () => 1 + random.index(rows - 1))])].sort((a, b) => a - b);
      const parts = [...cuts, 0].map((cut, index) => ({
        from: index === 0 ? 1 : (cuts[index - 1] ?? 0) + 1,
        to: cut,
        name: `part-${round}-${index}`,
      }));
      // All at once, as a job runner would.
      const ended = await Promise.all(
        parts.map(({ from, to, name }, index) =>
          program(
            [...words(name), '--rows', `${from}:${to === 0 ? '' : to}`, ...(index === 0 ? [] : ['--omit-header'])],
            folder,
          ),
        ),
      );
      for (const { exit, stderr } of ended) expect([0, 1], stderr).toContain(exit);
      for (const output of outputs)
        expect(
          parts.map(({ name }) => textOf(`${name}-${output}`)).join(''),
          `${output} cut after ${cuts.join(', ')}`,
        ).toBe(withoutRepeats(textOf(`whole-${output}`)));

      const merged = await program(
        [
          'merge-records',
          ...parts.map(({ name }) => `${name}-record.json`),
          '--output',
          'merged.json',
          '--force',
          '--quiet',
        ],
        folder,
      );
      expect(merged.exit, merged.stderr).toBe(1);
      const {
        argv: _argv,
        parts: named,
        outputs: written,
        ...record
      } = JSON.parse(textOf('merged.json')) as Record<string, unknown>;
      // Only the whole compares repeats, and tells from them how noisy the day was.
      const {
        argv: _own,
        outputs: files,
        day_variance: noise,
        repeats_compared: isCompared,
        verdict_counts: verdicts,
        reason_counts: reasons,
        ...whole
      } = JSON.parse(textOf('whole-record.json')) as Record<string, unknown>;
      expect(noise).toBeDefined();
      expect([isCompared, record['repeats_compared']]).toEqual([true, false]);
      expect(merged.stderr).toBe('');
      const { 'point-repeat-disagrees': compared, ...problems } = whole['problems'] as Record<string, number>;
      expect(compared).toBe(2);
      const {
        'point-repeat-disagrees': disputed = 0,
        'point-pole-length-changed': _poles,
        ...others
      } = reasons as Record<string, number>;
      expect(disputed).toBe(4);
      const { accepted = 0, review = 0, rejected } = verdicts as Record<string, number>;
      expect(record).toEqual({
        ...whole,
        problems,
        repeats_compared: false,
        verdict_counts: { accepted: accepted + disputed, review: review - disputed, rejected },
        reason_counts: others,
      });
      expect(named).toHaveLength(parts.length);
      // Those of every part, in their order.
      expect(written).toHaveLength(parts.length * (files as unknown[]).length);
    }
  });
});

describe('--rows', () => {
  const run = (...words: string[]): ReturnType<typeof runInProcess> =>
    runInProcess(['reduce-points', 'fixes.csv', '--session', 'session.toml', ...words], { cwd: DAY });

  it('takes an occupation whole with the part it begins in, and none of it with the next', async () => {
    const ids = (text: Buffer): readonly string[] =>
      text
        .toString('utf8')
        .trimEnd()
        .split('\n')
        .map((line) => line.split(',')[0] ?? '');
    const rows = readFileSync(join(DAY, 'fixes.csv'), 'utf8')
      .trimEnd()
      .split('\n')
      .slice(1)
      .map((line) => line.split(',')[0]);
    const second = rows.findIndex((id) => id !== rows[0]);
    const whole = ids((await run()).stdout).slice(1);
    expect(ids((await run('--rows', `:${second - 1}`, '--omit-header')).stdout)).toEqual(whole.slice(0, 1));
    expect(ids((await run('--rows', `2:${second}`, '--omit-header')).stdout)).toEqual(['']);
    expect(ids((await run('--rows', `${second + 1}:${second + 1}`, '--omit-header')).stdout)).toEqual(
      whole.slice(1, 2),
    );
  });

  it('refuses what is no part of one CSV file', async () => {
    for (const range of [':', '5:3', '0:3', '1-3', 'a:b', '1:2:3', '-1:3'])
      expect((await run(`--rows=${range}`)).exit, range).toBe(2);
    expect((await run('--rows', '999999:')).stderr).toContain('the file has 2721 rows');
    expect((await run('--rows', '1:9', '--combine')).exit).toBe(2);
    expect(
      (
        await runInProcess(['reduce-points', 'fixes.csv', 'fixes.csv', '--session', 'session.toml', '--rows', '1:9'], {
          cwd: DAY,
        })
      ).exit,
    ).toBe(2);
    const log = '$GPGGA,050000.00,3130.0876,S,02124.0858,E,4,18,0.7,1016.25,M,27.5,M,1.0,0001*00\n';
    const nmea = await runInProcess(
      ['reduce-points', '-', '--input', 'nmea', '--session', 'session.toml', '--rows', '1:9'],
      { cwd: DAY, stdin: log },
    );
    expect(nmea.exit).toBe(2);
  });
});
