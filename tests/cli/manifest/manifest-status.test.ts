import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../../support/repository-files.js';
import { runInProcess } from '../../support/run-in-process.js';
import type { RunResult } from '../../support/run-in-process.js';

const DAYS = ['day-1', 'day-2', 'day-3', 'day-4', 'day-5'];
let folder = '';
const at = (name: string): string => join(folder, name);
const textOf = (name: string): string => readFileSync(at(name), 'utf8');
function reduce(...words: readonly string[]): Promise<RunResult> {
  return runInProcess(['reduce-points', '--manifest', 'sessions.csv', ...words], { cwd: folder });
}
interface Counts {
  readonly rows_read: number;
  readonly rows_used: number;
  readonly rows_rejected: number;
}
interface Told {
  readonly summary: Counts & Readonly<Record<string, unknown>>;
  readonly entries: readonly (Counts & Readonly<Record<string, unknown>>)[];
}
async function status(): Promise<Told & { readonly exit: number }> {
  const run = await reduce('--status', '--format', 'json', '--quiet');
  return { ...(JSON.parse(run.stdout.toString()) as Told), exit: run.exit };
}
interface Record_ {
  readonly inputs: readonly Counts[];
  readonly verdict_counts: Readonly<Record<string, number>>;
  readonly summary: { readonly points: number };
}
const recordOf = (day: string): Record_ => JSON.parse(textOf(`${day}/run.json`)) as Record_;

// Days 1 to 3 are done, of which 2 is changed afterwards; 4 fails; 5 is never run.
beforeAll(async () => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-status-'));
  for (const day of DAYS) {
    mkdirSync(at(day));
    cpSync(join(ROOT, 'examples', 'first-use'), at(day), { recursive: true });
  }
  writeFileSync(at('day-4/fixes.csv'), textOf('day-4/fixes.csv').replace(/-3\d\.\d+/u, '95.2'));
  const rows = DAYS.map((day) => `${day}/fixes.csv,${day}/session.toml,${day}/points.csv,${day}/run.json`);
  writeFileSync(at('sessions.csv'), `# invented\nfixes,session,output,record\n${rows.join('\n')}\n`);
  for (const index of ['1', '2', '3', '4']) await reduce('--index', index, '--quiet');
  writeFileSync(at('day-2/session.toml'), `${textOf('day-2/session.toml')}\n# seen\n`);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the status of a manifest', () => {
  it('tells what is done, what failed and by what, what changed, and what was never run', async () => {
    const { entries, summary, exit } = await status();
    expect(
      entries.map(({ entry, state, verdict, exit_code, problem_code }) => [
        entry,
        state,
        verdict,
        exit_code,
        problem_code,
      ]),
    ).toEqual([
      [1, 'done', 'within', 0, ''],
      [2, 'changed', 'within', 0, ''],
      [3, 'done', 'within', 0, ''],
      [4, 'failed', 'error', 3, 'latitude-out-of-range'],
      [5, 'not-run', '', null, ''],
    ]);
    expect(entries[1]?.['problem']).toBe('day-2/session.toml is another now');
    expect(entries[3]?.['problem']).toMatch(/^day-4\/fixes\.csv:\d+:\d+: latitude_deg: 95\.2 is outside -90\.\.90$/u);
    expect(summary).toMatchObject({ entries: 5, done: 2, failed: 1, changed: 1, not_run: 1, verdict: 'no' });
    expect(exit).toBe(1);
  });

  it('shows people only what is not done', async () => {
    const run = await reduce('--status');
    const lines = run.stdout.toString().trimEnd().split('\n');
    expect(lines.length).toBe(4);
    expect(lines[2]).toMatch(
      /^ {4}4 {2}failed {3}3 {5}day-4\/points\.csv {2}day-4\/fixes\.csv:.* \[latitude-out-of-range\]$/u,
    );
    expect(run.stderr).toBe('sessions.csv: 5 of reduce-points: 2 done, 1 failed, 1 changed, 1 not-run; verdict: no\n');
  });

  it('adds up the entries that are done, and no other, from what their own records say', async () => {
    const { summary } = await status();
    const done = ['day-1', 'day-3'].map(recordOf);
    const sum = (of: (record: Record_) => number): number => done.reduce((total, record) => total + of(record), 0);
    for (const name of ['rows_read', 'rows_used', 'rows_rejected'] as const)
      expect(summary[name], name).toBe(sum(({ inputs }) => inputs.reduce((total, input) => total + input[name], 0)));
    expect(summary.rows_read).toBeGreaterThan(0);
    for (const [word, count] of Object.entries(summary['verdict_counts'] as object))
      expect(count, word).toBe(sum(({ verdict_counts: counts }) => counts[word] ?? 0));
    expect(summary['reason_counts']).toEqual({
      'manifest-entry-changed': 1,
      'manifest-entry-failed': 1,
      'manifest-entry-not-run': 1,
    });
    expect(summary['summary']).toMatchObject({ points: sum(({ summary: { points } }) => points), bases: ['B1'] });
  });

  it('leaves a table and a record of the whole, the same for the same runs, which list-runs reads', async () => {
    const first = await reduce('--status', '-o', 'status.csv', '--record', 'whole.json');
    expect(first.exit).toBe(1);
    expect(textOf('status.csv').split('\n')[0]).toBe(
      'entry,state,verdict,exit_code,problem_code,problem,rows_read,rows_used,rows_rejected,output,record,line',
    );
    const [table, whole] = [textOf('status.csv'), textOf('whole.json')];
    await reduce('--status', '-o', 'status.csv', '--record', 'whole.json', '--force');
    expect([textOf('status.csv'), textOf('whole.json')].map((text) => text.replace(', "--force"', ''))).toEqual([
      table,
      whole.replace('"whole.json"\n', '"whole.json",\n    "--force"\n'),
    ]);
    const listed = await runInProcess(['list-runs', 'whole.json', '--format', 'csv'], { cwd: folder });
    expect(listed.stdout.toString()).toContain('whole.json,reduce-points');
    rmSync(at('status.csv'));
    rmSync(at('whole.json'));
  });

  it('runs nothing and overwrites nothing', async () => {
    const before = textOf('day-1/run.json');
    await reduce('--status', '--quiet');
    expect(textOf('day-1/run.json')).toBe(before);
    const refused = await reduce('--status', '-o', 'day-1/run.json', '--force');
    expect(refused.exit).toBe(4);
    expect(refused.stderr).toContain('file-output-is-input');
    expect(textOf('day-1/run.json')).toBe(before);
  });

  it('is within where everything is done, and says so in one line', async () => {
    writeFileSync(at('day-4/fixes.csv'), readFileSync(join(ROOT, 'examples', 'first-use', 'fixes.csv')));
    const run = await reduce();
    expect(run.exit, run.stderr).toBe(0);
    expect(run.stderr).toContain('5 entries: 3 run, 2 done before, 0 failed');
    const all = await reduce('--status');
    expect([all.exit, all.stdout.toString()]).toEqual([0, '']);
    expect(all.stderr).toBe(
      'sessions.csv: 5 of reduce-points: 5 done, 0 failed, 0 changed, 0 not-run; verdict: within\n',
    );
  });

  it('sees an output that was edited, and what a broken record tells', async () => {
    writeFileSync(at('day-1/points.csv'), 'edited\n');
    writeFileSync(at('day-2/run.json'), '{"broken": ');
    const { entries } = await status();
    expect(entries.map(({ state, problem }) => [state, problem]).slice(0, 2)).toEqual([
      ['changed', 'day-1/points.csv is not as it was written'],
      ['not-run', ''],
    ]);
  });
});
