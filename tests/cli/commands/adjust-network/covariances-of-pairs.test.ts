import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { HORIZONTAL_95, VERTICAL_95 } from '../../../../src/core/observation/uncertainty/confidence-factors.js';
import { runInProcess } from '../../../support/run-in-process.js';
import { ROOT } from '../../../support/repository-files.js';

const EXAMPLE = join(ROOT, 'examples', 'quillback-pan-network');
let folder = '';
beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-pairs-'));
});
afterAll(() => {
  rmSync(folder, { recursive: true });
});

type Line = Readonly<Record<string, string | number>>;

describe('covariances of pairs', () => {
  it('give, with those of both points, the relative ellipse and height of each pair', async () => {
    const named = ['vectors', 'control', 'pairs'].flatMap((name) => [`--${name}`, join(EXAMPLE, `${name}.csv`)]);
    const { stdout, exit } = await runInProcess(
      ['adjust-network', ...named, '--covariances', 'covariances.jsonl', '--format', 'json'],
      { cwd: folder },
    );
    expect(exit).toBe(0);
    const { pairs } = JSON.parse(stdout.toString('utf8')) as { readonly pairs: readonly Line[] };
    const lines = readFileSync(join(folder, 'covariances.jsonl'), 'utf8')
      .trimEnd()
      .split('\n')
      .map((line) => JSON.parse(line) as Line);
    expect(pairs).toHaveLength(2);
    for (const pair of pairs) {
      const own = (id: string | number | undefined): Line => lines.find((line) => line['point_id'] === id)!;
      const between = lines.find(({ from_id: a, to_id: b }) => a === pair['from_id'] && b === pair['to_id'])!;
      // C = Q_ii + Q_jj − Q_ij − Q_ijᵀ has the same trace in any axes.
      let trace = 0;
      for (const name of ['xx_m2', 'yy_m2', 'zz_m2'])
        trace += Number(own(pair['from_id'])[name]) + Number(own(pair['to_id'])[name]) - 2 * Number(between[name]);
      const [major, minor, height] = ['ellipse_major', 'ellipse_minor', 'vertical'].map((name) =>
        Number(pair[`relative_${name}_95_m`]),
      ) as [number, number, number];
      const stated = (major ** 2 + minor ** 2) / HORIZONTAL_95 ** 2 + (height / VERTICAL_95) ** 2;
      // Figures are written to a nanometre, of some millimetres.
      expect(Math.abs(stated / trace - 1)).toBeLessThan(1e-6);
      expect(Object.keys(between)).toHaveLength(11);
      expect(between['xy_m2']).not.toBe(between['yx_m2']);
    }
  });
});
