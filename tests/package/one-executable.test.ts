import { spawnSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { copyFileSync, existsSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';

/** The engine must be one of Node's own builds, which can carry a program; some distributions link it against a library. */
const canCarry = readFileSync(process.execPath).includes('NODE_SEA_FUSE_');
const folder = mkdtempSync(join(tmpdir(), 'pegbook-one-'));
/** Where a surveyor may put it. */
const desk = join(folder, 'Büro, Lager 2');
const name = process.platform === 'win32' ? 'pegbook.exe' : 'pegbook';
const digestOf = (path: string): string => createHash('sha256').update(readFileSync(path)).digest('hex');

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Ran {
  readonly exit: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs the one file from its folder, with nothing in the environment. */
function alone(...args: readonly string[]): Ran {
  const { status, stdout, stderr } = spawnSync(join(desk, name), args, { cwd: desk, env: {}, encoding: 'utf8' });
  return { exit: status, stdout, stderr };
}
/** Runs the program as it is installed, from the same folder. */
function installed(...args: readonly string[]): Ran {
  const { status, stdout, stderr } = spawnSync(process.execPath, [join(ROOT, 'bin/pegbook.js'), ...args], {
    cwd: desk,
    env: {},
    encoding: 'utf8',
  });
  return { exit: status, stdout, stderr };
}

describe.skipIf(!canCarry)('the program as one executable file (skipped where the engine cannot carry one)', () => {
  beforeAll(() => {
    mkdirSync(desk);
    for (const out of ['first', 'second']) {
      const made = spawnSync(process.execPath, ['tools/package.mjs', '--out', join(folder, out)], {
        cwd: ROOT,
        encoding: 'utf8',
      });
      expect(made.stderr).toBe('');
      expect(made.status).toBe(0);
    }
    copyFileSync(join(folder, 'first', name), join(desk, name));
    for (const file of ['fixes.csv', 'session.toml', 'geoid.csv'])
      copyFileSync(join(ROOT, 'examples/quillback-pan', file), join(desk, file));
  }, 300_000);

  it('has the same bytes when it is made again, and its notices beside it', () => {
    expect(digestOf(join(folder, 'first', name))).toBe(digestOf(join(folder, 'second', name)));
    expect(existsSync(join(folder, 'first', 'THIRD-PARTY-NOTICES.txt'))).toBe(true);
  });

  it.each([
    ['its version', ['--version']],
    ['help', ['reduce-points', '--help']],
    ['a system of the registry', ['describe-system', 'EPSG:2049']],
    ['a code that is none, with those nearest', ['describe-system', 'EPSG:2047999']],
    ['a code near others', ['describe-system', 'EPSG:9777']],
    ['a place in systems, from the whole registry', ['find-system', 'Lo21']],
    ['the built-in geoid', ['describe-system', 'EPSG:2049', '--at=-31.5,21.4', '--geoid', 'egm96']],
    ['the day, in threads', ['reduce-points', 'fixes.csv', '--session', 'session.toml', '--workers', '2']],
    ['a geoid of the PROJ kind', ['describe-system', 'EPSG:2049', '--at=-33.95,18.45', '--geoid', 'geoid.tif']],
  ])('does what the installed program does: %s', (_, args) => {
    const tiff = join(ROOT, 'tests/fixtures/geoid-excerpts/za-geoid-2010-cape.tif');
    copyFileSync(tiff, join(desk, 'geoid.tif'));
    const own = alone(...args);
    expect(own).toEqual(installed(...args));
    expect(own.stdout + own.stderr).not.toBe('');
  });

  it('writes and reads Parquet by itself', () => {
    const day = ['reduce-points', 'fixes.csv', '--session', 'session.toml', '-q', '--force', '-o'];
    expect(alone(...day, 'own.parquet')).toEqual({ exit: 1, stdout: '', stderr: '' });
    expect(installed(...day, 'day.csv').exit).toBe(1);
    const cape = ['--from', 'EPSG:2049', '--to', 'EPSG:4148', '-q'];
    const own = alone('transform', 'own.parquet', ...cape);
    expect(own).toEqual(installed('transform', 'day.csv', ...cape));
    expect(own.stdout).toContain('\nC-01,');
  });
});

/** An engine for another system of the version that runs the tests, where somebody has put one: nothing is fetched. */
const other = process.env['PEGBOOK_OTHER_ENGINE'];

describe('an engine for another system', () => {
  it.skipIf(other === undefined)(
    'carries the same program (skipped where PEGBOOK_OTHER_ENGINE names none)',
    () => {
      const out = join(folder, 'other');
      const made = spawnSync(process.execPath, ['tools/package.mjs', '--engine', String(other), '--out', out], {
        cwd: ROOT,
        encoding: 'utf8',
      });
      expect(made.status).toBe(0);
      const engine = readFileSync(String(other));
      const isForWindows = engine.subarray(0, 2).toString('latin1') === 'MZ';
      const file = readFileSync(join(out, isForWindows ? 'pegbook.exe' : 'pegbook'));
      expect(file.subarray(0, 2)).toEqual(engine.subarray(0, 2));
      // Node's documentation: the fuse ends in 0 as it is delivered, and in 1 where a program was put in.
      expect(engine.includes('fce680ab2cc467b6e072b8b5df1996b2:0')).toBe(true);
      expect(file.includes('fce680ab2cc467b6e072b8b5df1996b2:1')).toBe(true);
      for (const own of ['dist/egm96-15-minute.bin', 'node_modules/epsg-index/s/2049.json'])
        expect([own, file.includes(readFileSync(join(ROOT, own)))]).toEqual([own, true]);
    },
    300_000,
  );

  it.skipIf(!canCarry)('is refused where it is none', () => {
    const { status, stderr } = spawnSync(process.execPath, ['tools/package.mjs', '--engine', 'package.json'], {
      cwd: ROOT,
      encoding: 'utf8',
    });
    expect(status).toBe(1);
    expect(stderr).toContain('package.json cannot carry a program');
  });
});
