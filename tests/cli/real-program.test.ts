import { spawn } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';

// A handful of runs of the built program itself: what a process in this process cannot show.
const BUILT = existsSync(join(ROOT, 'dist', 'cli', 'main.js'));

interface Ended {
  readonly exit: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

/** Runs bin/pegbook.js with standard input at its end; the reader may close standard output at once. */
function runProgram(args: readonly string[], reader: 'reads' | 'closes' | 'closes both'): Promise<Ended> {
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [join(ROOT, 'bin', 'pegbook.js'), ...args], {
      stdio: ['pipe', 'pipe', 'pipe'],
    });
    let stdout = '';
    let stderr = '';
    child.stdin.end();
    child.stderr.setEncoding('utf8').on('data', (text: string) => (stderr += text));
    if (reader === 'closes both') child.stderr.destroy();
    if (reader !== 'reads') child.stdout.destroy();
    else child.stdout.setEncoding('utf8').on('data', (text: string) => (stdout += text));
    child.on('error', reject);
    child.on('close', (exit) => {
      resolve({ exit, stdout, stderr });
    });
  });
}

describe.skipIf(!BUILT)('bin/pegbook.js (skipped until npm run build has been run)', () => {
  it('prints the version of package.json', async () => {
    const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string };
    expect(await runProgram(['--version'], 'reads')).toEqual({ exit: 0, stdout: `${version}\n`, stderr: '' });
  });

  it('ends with 2 and says why on standard error only when an option does not exist', async () => {
    const { exit, stdout, stderr } = await runProgram(['describe-system', '--no-such-option'], 'reads');
    expect({ exit, stdout }).toEqual({ exit: 2, stdout: '' });
    expect(stderr).toContain('--no-such-option');
  });

  it('ends quietly when the reader of standard output has gone', async () => {
    expect(await runProgram(['describe-system', 'EPSG:2049'], 'closes')).toEqual({ exit: 0, stdout: '', stderr: '' });
    expect(await runProgram(['help', 'problem-codes'], 'closes')).toEqual({ exit: 0, stdout: '', stderr: '' });
  });

  it('keeps its exit code when the reader of standard error has gone', async () => {
    expect((await runProgram(['describe-system', '--no-such-option'], 'closes both')).exit).toBe(2);
  });
});
