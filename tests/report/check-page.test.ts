import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, hasBrowser } from '../support/browser.js';
import { htmlFaults } from '../support/html-faults.js';
import { EVERY_LOOK, expectGoodLooks, expectGoodPrint } from '../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../support/report-pages.js';
import type { ReportRun } from '../support/report-pages.js';
import { cellsOfTable } from '../support/table-cells.js';

const folder = folderWithExamples();
let day: ReportRun;

beforeAll(async () => {
  const files = ['examples/quillback-pan-check/points.csv', '--session', 'examples/quillback-pan/session.toml', '--control', 'examples/quillback-pan/control.csv'];
  day = await runWithReport(folder, ['check-tolerances', ...files, '--repeats', '--limit-horizontal', '0.05', '--limit-vertical', '0.1'], 'check');
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of a check', () => {
  it('shows the differences of the data file, row by row', () => {
    const rows = cellsOfTable(day.html, 'Comparisons.');
    expect(rows).toHaveLength(day.rows.length);
    for (const [index, row] of day.rows.entries()) {
      const shown = (name: string): string => (row[name] === '' ? '–' : (row[name] ?? '').replace('-', '\u2212'));
      const cells = rows[index] ?? [];
      expect([cells[0], cells[1]]).toEqual([row['point_id'], row['occupation']]);
      expect([cells[5], cells[6], cells[7]]).toEqual(['difference_westing_m', 'difference_southing_m', 'difference_height_m'].map(shown));
      expect(cells[8]).toBe(`${shown('horizontal_limit_m')} / ${shown('vertical_limit_m')}`);
      expect([cells[3], cells[10]?.replaceAll(', ', ';')]).toEqual([row['verdict'], row['reasons']]);
    }
  });

  it('states frame, unit, exaggeration and limit with its figures', () => {
    for (const words of ['times too long', 'north is grid north', 'Y, westing, km, grows to the left (west)', 'east, mm', 'hours between occupations', 'distance from the base, km', 'height above the base, m']) {
      expect(day.html.includes(words), words).toBe(true);
    }
  });

  it('names the likely cause of repeats that disagree', () => {
    expect(cellsOfTable(day.html, 'Occupations that disagree.').map((cells) => cells[0])).toEqual(['QP-03', 'QP-06']);
  });

  it('is valid HTML', async () => {
    expect(await htmlFaults(day.html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)('is quiet, alone, accessible and fits at every width, by day, by night and on paper', async () => {
    const browser = await openBrowser();
    try {
      await expectGoodLooks(browser, day.path, EVERY_LOOK);
      await expectGoodPrint(browser, day.path, day.html);
    } finally {
      await browser.close();
    }
  }, 240_000);
});
