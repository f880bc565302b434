import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { BUILT, dayFolder, REDUCE, startProgram } from './support.js';

let folder = '';
beforeAll(() => {
  folder = dayFolder(20_000);
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Reads so many bytes of a run's output and then no more. */
function readBytes(
  count: number,
): Promise<{ readonly exit: number | null; readonly stderr: string; readonly bytes: number }> {
  const child = startProgram([...REDUCE, '--quiet'], folder);
  child.stdin.end();
  let bytes = 0;
  let stderr = '';
  child.stderr.setEncoding('utf8').on('data', (text: string) => (stderr += text));
  child.stdout.on('data', (chunk: Buffer) => {
    bytes += chunk.length;
    if (bytes >= count) child.stdout.destroy();
  });
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (exit) => {
      resolve({ exit, stderr, bytes });
    });
  });
}

describe.skipIf(!BUILT)('a reader that has had enough (skipped until npm run build has been run)', () => {
  it.each([1, 200, 65_536, 65_537, 300_000, 2_000_000])(
    'ends the run quietly with exit 0 after %i bytes',
    async (count) => {
      const { exit, stderr, bytes } = await readBytes(count);
      expect(bytes).toBeGreaterThanOrEqual(count);
      expect({ exit, stderr }).toEqual({ exit: 0, stderr: '' });
    },
  );
});
