import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../support/run-in-process.js';
import { HABITS } from '../../support/habits/habits.js';
import { GRID, gridPair, MARKS } from '../../support/habits/truth.js';

// The same fixes in every habit of writing: the draft is reviewed as a file beside this test, its questions are answered as a person would
// answer them, and the reduction must give the truth that the habit was written from. Independent of the reader: the writers share nothing
// with it but the projection, which has its own published values in tests/reference.
const scratch = mkdtempSync(join(tmpdir(), 'pegbook-habits-'));
afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
});

describe.each(HABITS.map((habit) => ({ ...habit })))(
  'a file of the habit "$name"',
  ({ name, file, bytes, answers, toleranceM }) => {
    const cwd = mkdtempSync(join(scratch, 'habit-'));
    writeFileSync(join(cwd, file), bytes);

    it('is drafted with what it was guessed from, and asks what cannot be guessed', async () => {
      const { exit, stdout, stderr } = await runInProcess(['draft-session', file], { cwd });
      expect({ exit, stderr: stderr.split('\n').length }).toEqual({ exit: 0, stderr: 4 });
      await expect(stdout.toString('utf8')).toMatchFileSnapshot(join('drafts', `${name.replaceAll(' ', '-')}.toml`));
      writeFileSync(join(cwd, 'open.toml'), stdout);
      const refused = await runInProcess(['reduce-points', file, '--session', 'open.toml'], { cwd });
      expect(refused.exit).toBe(2);
      expect(refused.stderr).toMatch(/^open\.toml:\d+: .*\[config-unanswered\]/mu);
    });

    it('is reduced to the truth once it is answered', async () => {
      const options = answers.flatMap((answer) => ['--answer', answer]);
      const drafted = await runInProcess(['draft-session', file, ...options, '-o', 'session.toml'], { cwd });
      expect(drafted.stderr).toContain('none is asked');
      const { exit, stdout, stderr } = await runInProcess(['reduce-points', file, '--session', 'session.toml'], {
        cwd,
      });
      expect([exit, readFileSync(join(cwd, 'session.toml'), 'utf8'), stderr][0], stderr).toBe(0);
      const [header = '', ...rows] = stdout.toString('utf8').trimEnd().split('\n');
      const points = rows.map((row) =>
        Object.fromEntries(header.split(',').map((key, index) => [key, row.split(',')[index] ?? ''])),
      );
      const system = answers.find((answer) => answer.startsWith('system.grid='))?.slice('system.grid='.length) ?? GRID;
      // Without times every row is an occupation: the mean of those of a mark is its coordinate.
      const marks = MARKS.filter(({ id }) => points.some((point) => point['point_id'] === id));
      expect(marks.length).toBe(name === 'nmea' ? 1 : 2);
      for (const { id, latitudeDeg, longitudeDeg, heightM } of marks) {
        const own = points.filter((point) => point['point_id'] === id);
        const mean = (column: string): number =>
          own.reduce((sum, point) => sum + Number(point[column]), 0) / own.length;
        const pair = gridPair(system, latitudeDeg, longitudeDeg);
        const axes = header.includes('westing_m') ? ['westing_m', 'southing_m'] : ['easting_m', 'northing_m'];
        expect(Math.abs(mean(axes[0] ?? '') - pair[0]), 'first axis').toBeLessThan(toleranceM);
        expect(Math.abs(mean(axes[1] ?? '') - pair[1]), 'second axis').toBeLessThan(toleranceM);
        expect(Math.abs(mean('ellipsoidal_height_m') - heightM), 'height').toBeLessThan(toleranceM);
        expect(own.reduce((sum, point) => sum + Number(point['epochs_used']), 0)).toBe(3);
      }
    });
  },
);

it('shows thirty habits at least', () => {
  expect(HABITS.length).toBeGreaterThanOrEqual(30);
});
