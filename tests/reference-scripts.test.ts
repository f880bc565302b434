import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { hasProgram } from './support/external-programs.js';
import { filesUnder, ROOT, textOf } from './support/repository-files.js';

// The rows that were computed are computed again, by general libraries of another language.
const canRun = spawnSync('python3', ['-c', 'import mpmath, numpy, scipy'], { encoding: 'utf8' }).status === 0;
/** A row that says it was computed. Of these every one has a script; a table read by another name would have none. */
const COMPUTED = /,(?:COMPUTED|MPMATH),/u;
const rowsThatSaySo = (): number =>
  filesUnder('tests/reference', '.csv').flatMap((file) =>
    textOf(file)
      .split('\n')
      .filter((line) => !line.startsWith('#') && COMPUTED.test(line)),
  ).length;

/** `tools/reference` beside tables of which one is written otherwise. */
function checkWith(table: string, change: (text: string) => string): ReturnType<typeof check> {
  const folder = mkdtempSync(join(tmpdir(), 'pegbook-rows-'));
  try {
    cpSync(join(ROOT, 'tools', 'reference'), join(folder, 'tools', 'reference'), { recursive: true });
    mkdirSync(join(folder, 'tests', 'reference'), { recursive: true });
    const text = textOf(`tests/reference/${table}.csv`);
    expect(change(text)).not.toBe(text);
    writeFileSync(join(folder, 'tests', 'reference', `${table}.csv`), change(text));
    return check(join(folder, 'tools', 'reference', 'check.py'));
  } finally {
    rmSync(folder, { recursive: true });
  }
}

function check(script: string): { readonly status: number | null; readonly said: string } {
  const { status, stdout, stderr } = spawnSync('python3', ['-B', script], { encoding: 'utf8', maxBuffer: 1 << 26 });
  return { status, said: stdout + stderr };
}

describe.skipIf(!canRun || !hasProgram('cct'))(
  'tools/reference/shift_grids.py (skipped without python3 and cct)',
  () => {
    it('makes the grids and the rows that stand in the repository, to their last digit', () => {
      const { status, said } = check(join(ROOT, 'tools', 'reference', 'shift_grids.py'));
      expect(said).toBe('5 grids, 20 rows, 0 differ\n');
      expect(status).toBe(0);
    });
  },
);

describe.skipIf(!canRun)(
  'tools/reference (skipped where python3 with mpmath, numpy and scipy is not installed)',
  () => {
    it('computes every row that says it was computed, to its last digit', () => {
      const { status, said } = check(join(ROOT, 'tools', 'reference', 'check.py'));
      expect(status, said).toBe(0);
      expect(said).toBe(`${String(rowsThatSaySo())} rows computed, 0 differ; 0 rows have no script\n`);
    });

    it('notices one digit that is wrong', () => {
      const { status, said } = checkWith('pole', (text) => text.replace(',11.635463,', ',11.635464,'));
      expect(status).toBe(1);
      expect(said).toContain('pole: shift 20 minutes: expected_mm 11.635464, computed 11.635463');
    });

    it('notices a word, and an empty cell, that is wrong', () => {
      const plan = checkWith('occupation-plan', (text) => text.replace(',not-reached,', ',reached,'));
      expect(plan.said).toContain('occupation-plan: base forbids: status reached, computed not-reached');
      const ranges = checkWith('ranges', (text) => text.replace('horizontal,8,1,rss,19,', 'horizontal,8,1,rss,19.7,'));
      expect(ranges.said).toContain('ranges: tolerance below the constant term: expected_m , computed 879.666');
    });

    it('notices a computed row that no script computes', () => {
      const { status, said } = checkWith('repeats', (text) => text.replace('two_occupation_factor', 'three'));
      expect(status).toBe(1);
      expect(said).toContain('repeats: separation-10-km: no script computes it');
    });
  },
);
