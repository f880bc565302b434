import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { hasProgram } from '../support/external-programs.js';
import {
  ended,
  installedIn,
  killSession,
  makeSessions,
  recordsIn,
  startSession,
  treeOf,
  until,
} from '../support/large-job.js';
import { ROOT } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

// An archive is run, killed in the middle with everything that it started, and run again: what stands there then is, to the byte,
// what an uninterrupted run in one process leaves.
const BUILT = existsSync(join(ROOT, 'dist', 'program', 'main.js')) && process.platform === 'linux';
const PARALLEL = BUILT && hasProgram('parallel');
if (!PARALLEL)
  process.stderr.write('the large job is not run by GNU parallel: it is not installed, or the program is not built\n');

let folder = '';
const at = (name: string): string => join(folder, name);
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-large-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

const STATUS = ['--status', '--force', '-q', '-o', 'status.csv', '--record', 'whole.json'];
const manifestIn = (where: string, ...words: readonly string[]): ReturnType<typeof runInProcess> =>
  runInProcess(['reduce-points', '--manifest', 'sessions.csv', ...words], { cwd: at(where) });

/** One process, nothing in its way. */
async function uninterrupted(count: number): Promise<ReadonlyMap<string, string>> {
  makeSessions(at('whole'), count);
  expect((await manifestIn('whole', '-q')).exit).toBe(1);
  expect((await manifestIn('whole', ...STATUS)).exit).toBe(1);
  return treeOf(at('whole')).files;
}

/** Kills what runs the archive when a third of it is done; returns how many records there are then. */
async function killedInTheMiddle(
  leader: ReturnType<typeof startSession>,
  where: string,
  count: number,
): Promise<number> {
  const over = ended(leader);
  await until(() => recordsIn(at(where)) >= count / 3);
  expect(killSession(leader.pid)).toBeGreaterThan(1);
  expect(await over, 'it did not end by itself').toBeNull();
  return recordsIn(at(where));
}

describe.skipIf(!BUILT)('an archive in processes of their own (skipped until npm run build has been run)', () => {
  it('is the same, killed in the middle and run again', async () => {
    const count = 40;
    const expected = await uninterrupted(count);
    makeSessions(at('killed'), count);
    const words = [
      join(ROOT, 'tests/support/run-entries.mjs'),
      join(ROOT, 'bin/pegbook.js'),
      at('killed/sessions.csv'),
      String(count),
    ];
    const before = await killedInTheMiddle(startSession(process.execPath, words, {}), 'killed', count);
    expect(before).toBeLessThan(count);
    expect((await manifestIn('killed', '--status')).stderr).toMatch(
      /40 of reduce-points: \d+ done, 0 failed, 0 changed, [1-9]\d* not-run/u,
    );
    expect(await ended(startSession(process.execPath, words, {}))).toBe(1);
    expect((await manifestIn('killed', ...STATUS)).exit).toBe(1);
    expect(otherThan(expected, treeOf(at('killed')).files)).toEqual([]);
  }, 240_000);
});

describe.skipIf(!PARALLEL)('the worked example with GNU parallel (skipped where it is not installed)', () => {
  it('runs 100 sessions, is killed with kill -9 in the middle, resumes, and every byte is that of an uninterrupted run', async () => {
    const count = 100;
    const expected = await uninterrupted(count);
    makeSessions(at('killed'), count);
    const script = join(ROOT, 'examples', 'large-job', 'run-all.sh');
    const env = { PATH: installedIn(at('bin')), HOME: folder };
    const start = (): ReturnType<typeof startSession> =>
      startSession('bash', [script, at('killed/sessions.csv'), '4'], env);
    expect(await killedInTheMiddle(start(), 'killed', count)).toBeLessThan(count);
    expect(await ended(start()), 'one session in 25 has a point rejected').toBe(1);
    expect(otherThan(withoutFolder(expected), withoutFolder(treeOf(at('killed')).files))).toEqual([]);
  }, 600_000);
});

/** Names of files that are not the same, or not in both. */
function otherThan(expected: ReadonlyMap<string, string>, found: ReadonlyMap<string, string>): readonly string[] {
  return [...new Set([...expected.keys(), ...found.keys()])].filter((name) => expected.get(name) !== found.get(name));
}

/** The words that asked for the status are the only ones that say where the archive lies. */
function withoutFolder(files: ReadonlyMap<string, string>): ReadonlyMap<string, string> {
  return new Map(
    [...files].map(([name, text]) => {
      if (name !== 'whole.json') return [name, text];
      const { argv: _argv, ...rest } = JSON.parse(text) as Record<string, unknown>;
      return [name, JSON.stringify(rest)];
    }),
  );
}
