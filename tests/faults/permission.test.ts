import { existsSync, readFileSync, realpathSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';
import { BUILT, dayFolder, newFiles, REDUCE, runProgram } from './support.js';

/** The engine calls its permission model experimental before version 22. */
const [MAJOR = 0] = process.versions.node.split('.').map(Number);
const PERMISSION = MAJOR < 22 ? '--experimental-permission' : '--permission';

describe.skipIf(!BUILT)('under the permission model of Node (skipped until npm run build has been run)', () => {
  let folder = '';
  /** The recipe of SECURITY.md: the program and the job may be read, the job's folder written, nothing else. */
  let recipe: readonly string[] = [];
  beforeAll(() => {
    folder = realpathSync(dayFolder(4000));
    recipe = [PERMISSION, `--allow-fs-read=${ROOT}`, `--allow-fs-read=${folder}`, `--allow-fs-write=${folder}`];
  });
  afterAll(() => {
    rmSync(folder, { recursive: true, force: true });
  });

  it('reduces a day to files, with threads asked for and none allowed, to the same bytes as without', async () => {
    const free = await runProgram([...REDUCE, '-o', 'free.csv', '--workers', '2', '-q'], folder);
    const bound = await runProgram(
      [
        ...REDUCE,
        '-o',
        'bound.csv',
        '--workers',
        '2',
        '--record',
        'run.json',
        '--report',
        'day.html',
        '--epochs',
        'epochs.csv',
        '-q',
      ],
      folder,
      recipe,
    );
    expect(bound.stderr).not.toContain('internal error');
    expect(bound.exit).toBe(free.exit);
    expect(readFileSync(join(folder, 'bound.csv')).equals(readFileSync(join(folder, 'free.csv')))).toBe(true);
    expect(existsSync(join(folder, 'day.html'))).toBe(true);
    for (const name of ['free.csv', 'bound.csv', 'run.json', 'day.html', 'epochs.csv']) rmSync(join(folder, name));
    expect(newFiles(folder)).toEqual([]);
  });

  it('replaces a file with --force', async () => {
    const made = await runProgram([...REDUCE, '-o', 'again.csv', '-q'], folder, recipe);
    const again = await runProgram([...REDUCE, '-o', 'again.csv', '-q', '--force'], folder, recipe);
    expect([made.exit, again.exit]).toEqual([again.exit, made.exit]);
    rmSync(join(folder, 'again.csv'));
    expect(newFiles(folder)).toEqual([]);
  });

  it('names the switch where a place may not be written', async () => {
    const elsewhere = join(ROOT, 'not-to-be-written.csv');
    const { exit, stderr } = await runProgram([...REDUCE, '-o', elsewhere, '-q'], folder, recipe);
    expect(exit).toBe(4);
    expect(stderr).toContain('[file-output-unwritable]');
    expect(stderr).toContain('--permission');
    expect(existsSync(elsewhere)).toBe(false);
  });

  it('says so where a file outside may not be read', async () => {
    const { exit, stderr } = await runProgram(
      ['reduce-points', '/etc/hostname', '-s', 'session.toml', '-q'],
      folder,
      recipe,
    );
    expect(exit).toBe(4);
    expect(stderr).toContain('[file-unreadable]');
    expect(stderr).toContain('--permission');
  });
});
