import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runInProcess } from '../../support/run-in-process.js';

const FIGURES = {
  sigma_east_m: '0.0101',
  sigma_north_m: '0.0102',
  sigma_up_m: '0.0203',
  correlation_en: '0.1',
  ellipse_major_95_m: '0.03',
  circle_95_m: '0.0298',
  vertical_95_m: '0.0459',
  Verdict: 'accepted',
  reasons: '',
};
const HEIGHT_FIGURES = ['sigma_up_m', 'vertical_95_m', 'Verdict', 'reasons'];
let folder = '';

/** Columns of the output, the row, and what was said. */
async function transform(
  ...words: string[]
): Promise<{ readonly columns: readonly string[]; readonly stderr: string }> {
  const { stdout, exit, stderr } = await runInProcess(['transform', 'points.csv', ...words], { cwd: folder });
  expect(exit, stderr).toBe(0);
  return { columns: (stdout.toString().split('\n')[0] ?? '').split(','), stderr };
}

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'pegbook-trust-'));
  const names = Object.keys(FIGURES);
  writeFileSync(
    join(folder, 'points.csv'),
    `point_id,westing_m,southing_m,ellipsoidal_height_m,${names.join(',')},epochs_used\nA,-38946.9576,3487592.8238,1050,${Object.values(FIGURES).join(',')},6\n`,
  );
  writeFileSync(join(folder, 'shift.csv'), '');
});
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('figures of trust beside coordinates that were moved', () => {
  it.each([
    ['an operation of 15 m', ['--from', 'EPSG:2049', '--to', 'EPSG:4222', '--operation', 'EPSG:1504']],
    [
      'an operation that is said to move nothing',
      ['--from', 'EPSG:2049', '--to', 'EPSG:32734', '--operation', 'EPSG:1505'],
    ],
    ['the shift of a definition', ['--from', 'EPSG:2049', '--to', 'EPSG:4222', '--accept-default-shift']],
    ['the motion of a plate', ['--from', 'EPSG:2049', '--epoch-from', '2000', '--epoch-to', '2020', '--plate', 'NUBI']],
  ])('are left out, and that is said: %s', async (_, words) => {
    const { columns, stderr } = await transform(...words);
    for (const name of Object.keys(FIGURES)) {
      expect(columns).not.toContain(name);
      expect(stderr).toMatch(
        new RegExp(`left out, because they do not hold the accuracy of the operation: .*\\b${name}\\b`, 'u'),
      );
    }
    expect(columns).toContain('epochs_used');
  });

  it('stay where the same place is written another way', async () => {
    const { columns, stderr } = await transform('--from', 'EPSG:2049', '--to', 'EPSG:4148');
    expect(columns).toEqual(expect.arrayContaining(Object.keys(FIGURES)));
    expect(stderr).not.toContain('do not hold');
  });

  it('in height are left out where a geoid changed the kind of height', async () => {
    const { columns, stderr } = await transform(
      '--from',
      'EPSG:2049',
      '--from-height',
      'ellipsoidal',
      '--to-height',
      'orthometric',
      '--geoid',
      'egm96',
    );
    for (const name of Object.keys(FIGURES)) expect(columns.includes(name), name).toBe(!HEIGHT_FIGURES.includes(name));
    expect(stderr).toContain('do not hold the accuracy of the change of heights');
  });
});
