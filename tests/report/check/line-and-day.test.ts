import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';

const folder = folderWithExamples();
afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of a check', () => {
  beforeAll(() => {
    // Common practice, no published source: a line runs from its first point on, and right of it is positive. This one runs north along
    // easting 0: east of it is right.
    writeFileSync(
      join(folder, 'line.csv'),
      'point_id,easting_m,northing_m,tolerance_horizontal_m\nL1,0,0,0.02\nL2,0,100,0.02\n',
    );
    writeFileSync(join(folder, 'staked.csv'), 'point_id,easting_m,northing_m\nW,-0.030,40\nE,0.010,60\n');
  });

  it('says chainage and side of a line', async () => {
    const { html } = await runWithReport(
      folder,
      ['check-tolerances', 'staked.csv', '--design', 'line.csv', '--line'],
      'line',
    );
    expect(html).toContain('0.030 m left of L1 to L2, at chainage 40.00 m');
    expect(html).toContain('40.0000 / −0.0300');
    expect(html).toContain('60.0000 / 0.0100');
  });

  it('says that no factor of the day was needed where one was asked for', async () => {
    const { html } = await runWithReport(
      folder,
      [
        'check-tolerances',
        'examples/quillback-pan/expected-points.csv',
        '--session',
        'examples/quillback-pan/session.toml',
        '--repeats',
        '--variance-factor',
        'estimated',
      ],
      'factor',
    );
    expect(html).toMatch(/<b>The day\.<\/b> No variance factor applied: .*\d\.\d+, \d\.\d+ to \d\.\d+/u);
  });
});
