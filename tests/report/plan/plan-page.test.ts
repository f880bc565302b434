import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, SOME_LOOKS, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable } from '../../support/table-cells.js';

const folder = folderWithExamples();
let plan: ReportRun;
let gridless: ReportRun;

beforeAll(async () => {
  const work = [
    'plan-baseline',
    'examples/quillback-pan-plan/work.geojson',
    '--candidates',
    'examples/quillback-pan-plan/candidates.csv',
    '--need-cellular',
    '--control',
    'examples/quillback-pan-plan/control.csv',
  ];
  const limits = [
    '--limit-horizontal',
    '0.05',
    '--limit-vertical',
    '0.10',
    '--pole-length',
    '2',
    '--base-sigma',
    '0.01,0.02',
    '--spacing',
    '2000',
  ];
  const day = ['--stream', 'msm7', '--timetable', 'day.csv', '--start-utc', '2026-03-04T06:00:00Z', '--speed', '50'];
  plan = await runWithReport(folder, [...work, ...limits, ...day, '--system', 'EPSG:2049'], 'plan');
  gridless = await runWithReport(
    folder,
    ['plan-baseline', 'examples/quillback-pan-plan/work.geojson', '--base', '-31.5,21.4,1040', ...limits],
    'gridless',
  );
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of a plan', () => {
  it('shows the predictions of the data file, place by place', () => {
    const rows = cellsOfTable(plan.html, 'Places.');
    expect(rows).toHaveLength(plan.rows.length);
    for (const [index, row] of plan.rows.entries()) {
      const cells = rows[index] ?? [];
      expect([cells[0], cells[1], cells[7]]).toEqual([row['point_id'], row['base_id'], row['verdict']]);
      expect([cells[3], cells[4], cells[5], cells[6]]).toEqual(
        ['circle_95_normal_m', 'tolerance_horizontal_m', 'vertical_95_normal_m', 'tolerance_vertical_m'].map(
          (name) => row[name],
        ),
      );
    }
  });

  it('holds coverage, the curves of three conditions, the timetable and the data budget', () => {
    for (const words of [
      'Coverage map',
      'quiet (dotted), normal (full) and active (dashed)',
      'Predicted 95 % in plan against distance',
      'Predicted 95 % in height against distance',
      'Timetable.',
      'Data budget.',
      'Billed in all',
      'Y, westing, km, grows to the left (west)',
    ]) {
      expect(plan.html.includes(words), words).toBe(true);
    }
  });

  it('draws distances from the base where no grid is set, and says what was not asked for', () => {
    expect(gridless.html.includes('distances and azimuths from base')).toBe(true);
    expect(gridless.html.includes('No timetable was asked for.')).toBe(true);
  });

  it.each(['plan', 'gridless'] as const)('is valid HTML: %s', async (name) => {
    expect(await htmlFaults({ plan, gridless }[name].html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, plan.path, EVERY_LOOK);
        await expectGoodPrint(browser, plan.path, plan.html);
        await expectGoodLooks(browser, gridless.path, SOME_LOOKS);
        await expectGoodPrint(browser, gridless.path, gridless.html);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});
