import { spawnSync } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from './support/repository-files.js';

// The rows that were computed are computed again, by general libraries of another language.
const canRun = spawnSync('python3', ['-c', 'import mpmath, numpy, scipy'], { encoding: 'utf8' }).status === 0;
/** Rows that a script has, and those that none has yet: a new computed row raises the first, never the second. */
const SCRIPTED = 679;
const WITHOUT = 20;

function check(script: string): { readonly status: number | null; readonly said: string } {
  const { status, stdout, stderr } = spawnSync('python3', ['-B', script], { encoding: 'utf8', maxBuffer: 1 << 26 });
  return { status, said: stdout + stderr };
}

describe.skipIf(!canRun)(
  'tools/reference (skipped where python3 with mpmath, numpy and scipy is not installed)',
  () => {
    it('computes every row that has a script to its last digit', () => {
      const { status, said } = check(join(ROOT, 'tools', 'reference', 'check.py'));
      const [, computed = '', without = ''] =
        /^(\d+) rows computed, 0 differ; (\d+) rows have no script/mu.exec(said) ?? [];
      expect(status, said).toBe(0);
      expect(Number(computed), said).toBeGreaterThanOrEqual(SCRIPTED);
      expect(Number(without), said).toBeLessThanOrEqual(WITHOUT);
    });

    it('notices one digit that is wrong', () => {
      const folder = mkdtempSync(join(tmpdir(), 'pegbook-rows-'));
      try {
        cpSync(join(ROOT, 'tools', 'reference'), join(folder, 'tools', 'reference'), { recursive: true });
        mkdirSync(join(folder, 'tests', 'reference'), { recursive: true });
        const text = readFileSync(join(ROOT, 'tests', 'reference', 'pole.csv'), 'utf8');
        expect(text).toContain(',11.635463,');
        writeFileSync(join(folder, 'tests', 'reference', 'pole.csv'), text.replace(',11.635463,', ',11.635464,'));
        const { status, said } = check(join(folder, 'tools', 'reference', 'check.py'));
        expect(status).toBe(1);
        expect(said).toContain('pole: shift 20 minutes: expected_mm 11.635464, computed 11.635463');
      } finally {
        rmSync(folder, { recursive: true });
      }
    });
  },
);
