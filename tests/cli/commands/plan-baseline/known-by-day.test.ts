import { cpSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../../support/run-in-process.js';

const ROOT = fileURLToPath(new URL('../../../..', import.meta.url));
const folder = mkdtempSync(join(tmpdir(), 'pegbook-plan-known-'));
for (const name of ['quillback-pan', 'quillback-pan-job'])
  cpSync(join(ROOT, 'examples', name), join(folder, name), { recursive: true });
writeFileSync(join(folder, 'places.csv'), 'point_id,latitude_deg,longitude_deg\nA,-31.58,21.15\n');

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const UNSTATED = 'the base coordinate has no stated sigma';
const plan = (): ReturnType<typeof runInProcess> =>
  runInProcess(
    [
      'plan-baseline',
      'places.csv',
      '--job',
      'quillback-pan-job/job.toml',
      '--base',
      '-31.589,21.149,1077',
      '--format',
      'csv',
    ],
    { cwd: folder },
  );

describe('a plan with a base that is known by an earlier day', () => {
  it('takes what that day says of it, and before it is measured says that nothing does', async () => {
    const measured = await plan();
    expect(measured.stderr).not.toContain(UNSTATED);
    rmSync(join(folder, 'quillback-pan-job/monday.csv'));
    const before = await plan();
    expect(before.stderr).toContain(UNSTATED);
    const circle = ({ stdout }: Awaited<ReturnType<typeof plan>>): number => {
      const [header = '', row = ''] = String(stdout).split('\n');
      return Number(row.split(',')[header.split(',').indexOf('circle_95_normal_m')]);
    };
    // The peg of the first day is known to some centimetre; a figure that left it out would be smaller.
    expect(circle(measured)).toBeGreaterThan(circle(before));
  });
});
