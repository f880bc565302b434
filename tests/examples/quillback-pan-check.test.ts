import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT, textOf } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

// What check-tolerances says of the invented day, from the day's own raw fixes: every mistake that was planted is named.
const DAY = join(ROOT, 'examples/quillback-pan');
const planted = textOf('examples/quillback-pan/planted.csv')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => {
    const [pointId = '', occupation = ''] = line.split(',');
    return { pointId, occupation, shownAs: line.slice(line.lastIndexOf(',') + 1) };
  });
/** Where the planted file names what joining the repeats shows, the cause that the check gives instead. */
const CAUSES: Readonly<Record<string, string>> = {
  'point-repeat-disagrees': 'wrong-integer',
  'point-pole-length-changed': 'pole-length',
};

describe('check-tolerances on the invented day', () => {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-check-'));
  let said: readonly string[] = [];
  let exit = 0;

  beforeAll(async () => {
    const reduced = await runInProcess(
      ['reduce-points', join(DAY, 'fixes.csv'), '--session', join(DAY, 'session.toml'), '-o', 'points.csv', '-q'],
      { cwd: folder },
    );
    expect(reduced.exit, reduced.stderr).toBe(1);
    const checked = await runInProcess(
      [
        'check-tolerances',
        'points.csv',
        '--session',
        join(DAY, 'session.toml'),
        '--control',
        join(DAY, 'control.csv'),
        '--repeats',
        '--fixes',
        join(DAY, 'fixes.csv'),
        '-o',
        'checks.csv',
      ],
      { cwd: folder },
    );
    said = checked.stderr.split('\n');
    ({ exit } = checked);
  }, 60_000);
  afterAll(() => {
    rmSync(folder, { recursive: true });
  });

  /** Points by the likeliest cause that is said of them: it stands once, and those it is said of below it. */
  const causes = (): ReadonlyMap<string, string> => {
    const found = new Map<string, string>();
    let cause = '';
    for (const line of said) {
      cause = /^ {2}\S.* \[([a-z-]+)\], the likeliest for /u.exec(line)?.[1] ?? cause;
      const pointId = /^ {4}(\S+): /u.exec(line)?.[1];
      if (pointId !== undefined && cause !== '') found.set(pointId, cause);
    }
    return found;
  };

  it('is not within', () => {
    expect(exit).toBe(1);
    expect(said.at(-2)).toMatch(/^verdict: no/u);
  });

  it('has a planted mistake of every kind', () => {
    expect(planted.map(({ pointId }) => pointId)).toEqual([
      'QP-03',
      'QP-05',
      'QP-06',
      'QP-08',
      'QP-09',
      'QP-10',
      'QP-21',
      'QP-22',
      'QP-23',
    ]);
  });

  it.each(planted)('names $pointId with $shownAs', ({ pointId, occupation, shownAs }) => {
    const cause = CAUSES[shownAs];
    const isNamed =
      cause === undefined
        ? said.some((line) => line.includes(shownAs) && line.includes(`${pointId}@${occupation}`))
        : causes().get(pointId) === cause;
    expect(isNamed, said.join('\n')).toBe(true);
  });

  it('gives the size of the wrong integers and of the pole step as they were planted', () => {
    // 0.12 m off in all, less in plan; 1.8 m for 2.0 m. Each difference holds the noise of two stands: 3 sigmas.
    const [, plan = '', up = ''] = /QP-03: ([\d.]+) mm in plan, (-?[\d.]+) mm in height/u.exec(said.join('\n')) ?? [];
    expect(Math.abs(Math.hypot(Number(plan), Number(up)) - 120)).toBeLessThan(3 * Math.hypot(15, 24));
    const pole = said.find((line) => line.startsWith('    QP-06: ')) ?? '';
    expect(pole).toContain('agrees with a step of poles of 0.200 m');
    expect(pole).not.toContain('QP-03');
  });

  it('names nobody else among the repeats', () => {
    expect([...causes().keys()]).toEqual(['QP-03', 'QP-06']);
  });

  it('names the base coordinate, two metres off, where the session leaves it as it was sent', async () => {
    const session = join(ROOT, 'examples/lessons/base-as-broadcast.toml');
    const reduced = await runInProcess(
      ['reduce-points', join(DAY, 'fixes.csv'), '--session', session, '-o', 'sent.csv', '-q'],
      { cwd: folder },
    );
    expect(reduced.exit, reduced.stderr).toBe(1);
    const { stderr } = await runInProcess(
      [
        'check-tolerances',
        'sent.csv',
        '--session',
        join(DAY, 'session.toml'),
        '--control',
        join(DAY, 'control.csv'),
        '-o',
        'sent-checks.csv',
      ],
      { cwd: folder },
    );
    const [, east, north, up] =
      /1\. the base coordinate is wrong \(base B1\) \[base-coordinate\]\n +east (-?[\d.]+) ± [\d.]+ m, north (-?[\d.]+) ± [\d.]+ m, up (-?[\d.]+)/u.exec(
        stderr,
      ) ?? [];
    expect(Math.abs(Math.hypot(Number(east), Number(north), Number(up)) - 2)).toBeLessThan(0.1);
  }, 60_000);
});
