import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../../support/run-in-process.js';
import type { RunResult } from '../../../support/run-in-process.js';
import { ROOT } from '../../../support/repository-files.js';
import { seededRandom } from '../../../support/seeded-random.js';

const EXAMPLE = join(ROOT, 'examples', 'quillback-pan-network');

let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-order-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

const linesOf = (name: string): readonly string[] => readFileSync(join(EXAMPLE, name), 'utf8').trimEnd().split('\n');

/** The same rows in another order, below the same header. */
function shuffled([header = '', ...rows]: readonly string[], seed: number): readonly string[] {
  const random = seededRandom(seed);
  const list = [...rows];
  for (let at = list.length - 1; at > 0; at -= 1) {
    const other = random.index(at + 1);
    [list[at], list[other]] = [list[other]!, list[at]!];
  }
  return [header, ...list];
}

async function adjusted(vectors: readonly string[], control: readonly string[]): Promise<RunResult> {
  writeFileSync(join(folder, 'vectors.csv'), `${vectors.join('\n')}\n`);
  writeFileSync(join(folder, 'control.csv'), `${control.join('\n')}\n`);
  const files = ['--vectors', 'vectors.csv', '--control', 'control.csv'];
  return runInProcess(['adjust-network', ...files, '--format', 'json'], { cwd: folder });
}

describe('adjust-network', () => {
  it('gives the same bytes for vectors and control in any order, also where two vectors differ in their weight alone', async () => {
    const vectors = linesOf('vectors.csv');
    // The first vector once more, stated to be a third as good.
    const again = vectors[1]!.split(',').map((cell, at) => (at >= 5 && at <= 10 ? String(9 * Number(cell)) : cell));
    const all = [...vectors, again.join(',')];
    const control = linesOf('control.csv');
    const { stdout, exit } = await adjusted(all, control);
    expect(exit).toBeLessThan(2);
    expect(stdout.length).toBeGreaterThan(1000);
    for (let seed = 1; seed <= 6; seed += 1) {
      const other = await adjusted(shuffled(all, seed), shuffled(control, seed + 100));
      expect(other.stdout.toString('utf8')).toBe(stdout.toString('utf8'));
    }
  });
});
