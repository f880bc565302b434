import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';

// 900 invented comparisons, of which 60 are beyond in plan alone, 45 in height alone and 27 in both: more than any figure draws.
const folder = mkdtempSync(join(tmpdir(), 'pegbook-marks-'));
const COUNT = 900;
const [PLAN, HEIGHT, BOTH] = [60, 45, 27];
let run: ReportRun;

beforeAll(async () => {
  const points = ['point_id,westing_m,southing_m,orthometric_height_m,sigma_east_m,sigma_north_m,sigma_up_m'];
  const control = ['point_id,westing_m,southing_m,orthometric_height_m'];
  for (let i = 0; i < COUNT; i += 1) {
    const [y, x, h] = [-38_000 + 37 * (i % 30), 3_487_000 + 41 * Math.floor(i / 30), 1_000 + (i % 7)];
    const isPlan = i < PLAN + BOTH;
    const isHeight = i >= PLAN && i < PLAN + BOTH + HEIGHT;
    points.push(
      `P${String(i)},${String(y + (isPlan ? 0.09 : 0.01))},${String(x)},${String(h + (isHeight ? -0.2 : 0.02))},0.01,0.01,0.02`,
    );
    control.push(`P${String(i)},${String(y)},${String(x)},${String(h)}`);
  }
  writeFileSync(join(folder, 'points.csv'), points.join('\n'));
  writeFileSync(join(folder, 'control.csv'), control.join('\n'));
  const limits = ['--limit-horizontal', '0.05', '--limit-vertical', '0.1'];
  run = await runWithReport(
    folder,
    ['check-tolerances', 'points.csv', '--system', 'EPSG:2049', '--control', 'control.csv', ...limits],
    'check',
  );
}, 60_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const drawn = (name: string): number => run.html.match(new RegExp(`<use href="#${name}-`, 'gu'))?.length ?? 0;
const LIMITS = ['check-horizontal-limit', 'check-vertical-limit'];
const failing = (reasons: readonly string[]): number =>
  run.rows.filter((row) => LIMITS.every((one) => (row['reasons'] ?? '').includes(one) === reasons.includes(one)))
    .length;

describe('failures of a check of many points', () => {
  it('are drawn as often as the data file has them, each by its axis', () => {
    expect(failing(['check-horizontal-limit'])).toBe(PLAN);
    expect(drawn('residuals-bad-times')).toBe(PLAN);
    expect(failing(['check-vertical-limit'])).toBe(HEIGHT);
    expect(drawn('residuals-bad-cross')).toBe(HEIGHT);
    expect(failing(LIMITS)).toBe(BOTH);
    expect(drawn('residuals-bad-star')).toBe(BOTH);
  });

  it('are beyond in the figure of plan only where plan is', () => {
    expect(drawn('scatter-bad-times')).toBe(PLAN + BOTH);
    expect(drawn('scatter-mark-circle')).toBe(300);
    expect(run.html).toContain(
      `Of ${String(COUNT - PLAN - BOTH)} within 300 are drawn, evenly picked; all ${String(PLAN + BOTH)} others are drawn.`,
    );
  });

  it('keep the circle of 95 % about the sixty farthest alone, which is said', () => {
    const scatter = run.html.slice(run.html.indexOf('id="scatter-t"'));
    const spread = /class="spread" d="([^"]*)"/u.exec(scatter.slice(0, scatter.indexOf('</svg>')))?.[1] ?? '';
    expect(spread.match(/M/gu)).toHaveLength(60);
    expect(run.html).toContain('Thin circles: 95 % of the difference, of the 60 farthest alone.');
  });

  it('are not there where the limits are wide: then the circles of the twelve farthest alone leave the limit to be seen', async () => {
    const wide = await runWithReport(
      folder,
      [
        'check-tolerances',
        'points.csv',
        '--system',
        'EPSG:2049',
        '--control',
        'control.csv',
        '--limit-horizontal',
        '0.5',
        '--limit-vertical',
        '0.5',
      ],
      'wide',
    );
    const scatter = wide.html.slice(wide.html.indexOf('id="scatter-t"'));
    const spread = /class="spread" d="([^"]*)"/u.exec(scatter.slice(0, scatter.indexOf('</svg>')))?.[1] ?? '';
    expect(spread.match(/M/gu)).toHaveLength(12);
    expect(wide.html).toContain('Thin circles: 95 % of the difference, of the 12 farthest alone.');
  });

  it('lead the page by name and axis', () => {
    expect(run.html).toMatch(
      /<b>Worst<\/b> in plan 0\.090 m at <bdi>P0<\/bdi>, control, limit 0\.050 m; in height 0\.200 m at <bdi>P\d+<\/bdi>/u,
    );
  });
});
