import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDrawing } from '../../support/drawing-axes.js';
import type { ReadDrawing } from '../../support/drawing-axes.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';

// Marks stand where the data file has their points: read back from the words at the ticks alone, to a third of a dot, and as many as there are.
const folder = folderWithExamples();
const DOT = 0.35;
let day: ReportRun;
let check: ReportRun;
let plan: ReportRun;

beforeAll(async () => {
  const session = ['--session', 'examples/quillback-pan/session.toml'];
  const limits = ['--limit-horizontal', '0.05', '--limit-vertical', '0.10'];
  day = await runWithReport(folder, ['reduce-points', 'examples/quillback-pan/fixes.csv', ...session], 'day');
  check = await runWithReport(
    folder,
    ['check-tolerances', 'day-out.csv', ...session, '--control', 'examples/quillback-pan/control.csv'],
    'check',
  );
  plan = await runWithReport(
    folder,
    [
      'plan-baseline',
      'examples/quillback-pan-plan/points.csv',
      '--base',
      '-31.5,21.4,1040',
      '--system',
      'EPSG:2049',
      ...limits,
    ],
    'plan',
  );
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** What is drawn and what should be, each as `x y sign` to the nearest mark; both lists in one order. */
function expectMarks(
  drawing: ReadDrawing,
  wanted: readonly { readonly first: number; readonly second: number; readonly sign: RegExp }[],
): void {
  const left = [...drawing.marks];
  for (const { first, second, sign } of wanted) {
    const [x, y] = [drawing.across(first), drawing.down(second)];
    const found = left.findIndex(
      (mark) => sign.test(mark.sign) && Math.abs(mark.x - x) < DOT && Math.abs(mark.y - y) < DOT,
    );
    expect(
      found,
      `a mark ${String(sign)} at ${x.toFixed(2)}, ${y.toFixed(2)} among ${JSON.stringify(left.slice(0, 40))}`,
    ).toBeGreaterThanOrEqual(0);
    left.splice(found, 1);
  }
  expect(left).toEqual([]);
}

describe('marks of a figure stand where the data file has them', () => {
  it('on the plan of a reduction, by their verdicts', () => {
    const drawn = day.rows.filter((row) => row['verdict'] !== 'rejected');
    const seen = new Map<string, number>();
    const drawing = readDrawing(day.html, 'plan');
    // Occupations of one point stand side by side, nine dots apart: all but the first of a point are looked for by number only.
    const firsts = drawn.filter((row) => {
      const before = seen.get(row['point_id'] ?? '') ?? 0;
      seen.set(row['point_id'] ?? '', before + 1);
      return before === 0;
    });
    const once = firsts.filter((row) => seen.get(row['point_id'] ?? '') === 1);
    expect(once.length).toBeGreaterThan(10);
    expect(drawing.marks).toHaveLength(drawn.length);
    const left = [...drawing.marks];
    for (const row of once) {
      const [x, y] = [drawing.across(Number(row['westing_m'])), drawing.down(Number(row['southing_m']))];
      const sign = row['verdict'] === 'accepted' ? 'mark-circle' : 'doubt-diamond';
      const found = left.findIndex((mark) => mark.sign.startsWith(sign) && Math.hypot(mark.x - x, mark.y - y) < DOT);
      expect(found, row['point_id']).toBeGreaterThanOrEqual(0);
      left.splice(found, 1);
    }
  });

  it('in the figure of residuals in plan, along the axes it names', () => {
    const rows = check.rows.filter((row) => row['check'] === 'control' && row['difference_westing_m'] !== '');
    expect(rows.length).toBeGreaterThan(2);
    // The axes of the system grow to the west and to the south, the figure to the east and to the north.
    expectMarks(
      readDrawing(check.html, 'scatter'),
      rows.map((row) => ({
        first: -Number(row['difference_westing_m']),
        second: -Number(row['difference_southing_m']),
        sign: /./u,
      })),
    );
  });

  it('in the figure of residuals in height against distance', () => {
    const rows = check.rows.filter((row) => row['check'] === 'control' && row['difference_height_m'] !== '');
    expectMarks(
      readDrawing(check.html, 'height-distance'),
      rows.map((row) => ({
        first: Number(row['distance_m']),
        second: Number(row['difference_height_m']),
        sign: /./u,
      })),
    );
  });

  it('on the map of a plan, by verdict and class of tolerance', () => {
    const drawing = readDrawing(plan.html, 'coverage');
    expectMarks(
      drawing,
      plan.rows.map((row) => ({
        first: Number(row['westing_m']),
        second: Number(row['southing_m']),
        sign: new RegExp(
          `^${row['verdict'] === 'within' ? 'mark' : 'bad'}-${row['tolerance_horizontal_m'] === '0.0400' ? 'circle' : 'square'}`,
          'u',
        ),
      })),
    );
  });

  it('over distance, with what is predicted of each', () => {
    for (const [id, column, tolerance] of [
      ['curve-plan', 'circle_95_normal_m', 'tolerance_horizontal_m'],
      ['curve-height', 'vertical_95_normal_m', 'tolerance_vertical_m'],
    ] as const)
      expectMarks(
        readDrawing(plan.html, id),
        plan.rows.map((row) => ({
          first: Number(row['baseline_m']),
          second: Number(row[column]),
          // What is outside in the other axis alone is within here.
          sign: Number(row[column]) > Number(row[tolerance]) ? /^bad-times/u : /^mark-circle/u,
        })),
      );
  });
});
