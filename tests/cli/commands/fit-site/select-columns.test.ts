import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { ROOT } from '../../../support/repository-files.js';
import { runInProcess } from '../../../support/run-in-process.js';

const FIT = ['fit-site', 'points.csv', '--system', 'EPSG:2049', '--site-axes', 'easting_m,northing_m'];
const fit = (...words: readonly string[]) =>
  runInProcess([...FIT, ...words], { cwd: join(ROOT, 'examples', 'quillback-pan-site') });

describe('--select of fit-site', () => {
  // Were the table looked at only when it is written, the control that is not there would be met first.
  it.each([
    ['the table of residuals', ['--select', 'nosuch']],
    ['the file of residuals', ['--residuals', 'new-residuals.csv', '--select', 'residuals:nosuch', '-o', 'new.json']],
  ])('refuses a column that %s has not before it fits', async (_what, words) => {
    const { exit, stderr } = await fit('--control', 'missing.csv', ...words);
    expect(stderr).toContain('the table has no column nosuch');
    expect(exit).toBe(2);
  });

  it('takes those it has', async () => {
    const { exit, stdout } = await fit('--control', 'control.csv', '--select', 'point_id,residual_east_m');
    expect(exit).toBeLessThan(2);
    expect(stdout.toString()).toMatch(/^point_id,residual_east_m\n/u);
  });
});
