import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, describe, expect, it } from 'vitest';
import { ROOT } from '../support/repository-files.js';
import { runInProcess } from '../support/run-in-process.js';

const FOLDER = 'examples/quillback-pan-network';
const scratch = mkdtempSync(join(tmpdir(), 'pegbook-network-'));
afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
});

type Row = Readonly<Record<string, string>>;

/** What is said of each observation of the network with blunders, held by one control file. */
async function observationsWith(control: string): Promise<readonly Row[]> {
  const file = join(mkdtempSync(join(scratch, 'run-')), 'observations.csv');
  const words = ['--vectors', `${FOLDER}/vectors-with-blunders.csv`, '--control', `${FOLDER}/${control}`];
  const { exit } = await runInProcess(['adjust-network', ...words, '--observations', file, '-q'], { cwd: ROOT });
  expect(exit).toBe(1);
  return parse<Row>(readFileSync(file), { columns: true });
}

const JUDGEMENT = ['block_test', 'estimated_bias_x_m', 'estimated_bias_y_m', 'estimated_bias_z_m', 'verdict'];

describe('the network with blunders', () => {
  // A latitude of control that is 0.55 m off bent what was said of good vectors by centimetres, beside "held by QN-1 alone".
  it('has its observations judged by each other, whatever the control says', async () => {
    const [good, bad] = [await observationsWith('control.csv'), await observationsWith('control-typed-wrongly.csv')];
    const judged = (rows: readonly Row[]): unknown => rows.map((row) => JUDGEMENT.map((name) => row[name]));
    expect(judged(bad)).toEqual(judged(good));
    expect(bad.map((row) => row['residual_x_m'])).not.toEqual(good.map((row) => row['residual_x_m']));
  });

  it('has the planted 0.100 m up in what the others say of the vector, within three sigmas of its own axes', async () => {
    const [row] = await observationsWith('control-typed-wrongly.csv');
    // Up at QN-1, 31.5012° S 21.4021° E: (cos φ cos λ, cos φ sin λ, sin φ). Source: COMPUTED from the planted 0.100 m.
    const planted = [0.079385, 0.031113, -0.052252];
    const sigma = [0.0064, 0.0042, 0.005]; // of the vector itself, its file; others say it to about as much again
    for (const [axis, name] of ['x', 'y', 'z'].entries())
      expect(Math.abs(Number(row?.[`estimated_bias_${name}_m`]) + planted[axis]!)).toBeLessThan(
        3 * Math.SQRT2 * sigma[axis]!,
      );
  });
});
