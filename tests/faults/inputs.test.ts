import { spawnSync } from 'node:child_process';
import { appendFileSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { openSource } from '../../src/io/bytes/source.js';
import { chunksOf, codes, value } from '../io/support.js';
import { ROOT } from '../support/repository-files.js';
import { BUILT, dayFolder, ended, fixRows, newFiles, REDUCE, startProgram } from './support.js';

const folders: string[] = [];
const kept = (folder: string): string => {
  folders.push(folder);
  return folder;
};
afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

/** Codes of the last thing a reader hears of a file that changes after its third piece. */
async function lastOf(change: (path: string) => void): Promise<readonly string[]> {
  const folder = kept(mkdtempSync(join(tmpdir(), 'pegbook-faults-')));
  const path = join(folder, 'in.csv');
  writeFileSync(path, 'a,b\n'.repeat(1000));
  const source = value(await openSource(path, { cwd: folder, stdin: chunksOf(Buffer.alloc(0), 1), chunkBytes: 100 }));
  let last: readonly string[] = [];
  let count = 0;
  for await (const chunk of source.chunks()) {
    count += 1;
    if (count === 3) change(path);
    last = codes(chunk);
  }
  return last;
}

describe('an input that changes while it is read', () => {
  it('is reported when it grew', async () => {
    expect(await lastOf((path) => appendFileSync(path, 'c,d\n'))).toEqual(['file-changed']);
  });

  it('is reported when it was cut short', async () => {
    expect(await lastOf((path) => writeFileSync(path, 'a,b\n'.repeat(10)))).toEqual(['file-changed']);
  });

  it('is reported when it was written over with as many bytes', async () => {
    const after = await lastOf((path) => {
      // Longer than the clock of a file system rests.
      Atomics.wait(new Int32Array(new SharedArrayBuffer(4)), 0, 0, 50);
      writeFileSync(path, 'x,y\n'.repeat(1000));
    });
    expect(after).toEqual(['file-changed']);
  });
});

describe.skipIf(!BUILT || process.platform === 'win32')(
  'a working folder that is removed (skipped until npm run build has been run, and where it cannot be)',
  () => {
    // 2026-11-25: it was reported as an internal error.
    it('ends the run with 4 and says so', () => {
      const folder = mkdtempSync(join(tmpdir(), 'pegbook-faults-'));
      const ended = spawnSync(
        'sh',
        [
          '-c',
          'rmdir "$1" && exec "$2" "$3" describe-system EPSG:2049',
          'sh',
          folder,
          process.execPath,
          join(ROOT, 'bin', 'pegbook.js'),
        ],
        { cwd: folder, encoding: 'utf8' },
      );
      expect(ended.stderr).toContain('[file-not-found]');
      expect({ exit: ended.status, stdout: ended.stdout }).toEqual({ exit: 4, stdout: '' });
    });
  },
);

describe.skipIf(!BUILT)('a log that is still being written (skipped until npm run build has been run)', () => {
  it('gives exit 3 and no output, or a whole output from before it grew', async () => {
    const folder = kept(dayFolder(20_000));
    const child = startProgram([...REDUCE, '-v', '-o', 'out.csv'], folder);
    child.stdin.end();
    const end = ended(child);
    await new Promise((resolve) => child.stderr.once('data', resolve));
    appendFileSync(join(folder, 'fixes.csv'), fixRows(20_000, 20_100));
    const { exit, stderr } = await end;
    if (exit === 3) {
      expect(stderr).toContain('[file-changed]');
      expect(newFiles(folder)).toEqual([]);
    } else {
      expect(exit).toBe(1);
      expect([20_002, 20_102]).toContain(readFileSync(join(folder, 'out.csv'), 'utf8').split('\n').length);
    }
  });
});
