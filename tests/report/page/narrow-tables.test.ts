import { rmSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';

const folder = folderWithExamples();
interface Found {
  readonly heights: readonly number[];
  readonly spaces: readonly string[];
  readonly isWide: boolean;
}

/** Two lines of a table on a narrow screen, with the room about them. */
const TWO_LINES_PX = 48;

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe.skipIf(!hasBrowser)('tables on a narrow screen', () => {
  it('keep the rows of points low, though their last column is out of sight, and numbers on one line', async () => {
    const { path, rows } = await runWithReport(
      folder,
      ['reduce-points', 'examples/quillback-pan/fixes.csv', '--session', 'examples/quillback-pan/session.toml'],
      'narrow',
    );
    const browser = await openBrowser();
    try {
      const page = await browser.newPage({ viewport: { width: 360, height: 800 } });
      await page.goto(`file://${path}`);
      const found = await page.evaluate<Found>(`(() => {
        const all = [...document.querySelector('#points').parentElement.querySelector('table').querySelectorAll('tbody tr')];
        const root = document.documentElement;
        return {
          heights: all.map((row) => row.getBoundingClientRect().height),
          spaces: all.flatMap((row) => [...row.querySelectorAll('td.n')].map((cell) => getComputedStyle(cell).whiteSpace)),
          isWide: root.scrollWidth > root.clientWidth,
        };
      })()`);
      expect(found.heights).toHaveLength(rows.length);
      // A point with four reasons may have three lines of them.
      const doubtful = rows.filter((row) => (row['reasons'] ?? '').split(';').length > 2).length;
      expect(found.heights.filter((height) => height > TWO_LINES_PX).length).toBeLessThanOrEqual(doubtful);
      expect(new Set(found.spaces)).toEqual(new Set(['nowrap']));
      expect(found.isWide).toBe(false);
    } finally {
      await browser.close();
    }
  }, 60_000);

  it('keep the rows of observations low, though what control fails says stands far to the right', async () => {
    const net = 'examples/quillback-pan-network';
    const files = ['--vectors', `${net}/vectors-with-blunders.csv`, '--control', `${net}/control-typed-wrongly.csv`];
    const { path } = await runWithReport(folder, ['adjust-network', ...files, '--system', 'EPSG:2049'], 'net');
    const browser = await openBrowser();
    try {
      const page = await browser.newPage({ viewport: { width: 360, height: 800 } });
      await page.goto(`file://${path}`);
      const heights = await page.evaluate<readonly number[]>(
        `[...document.querySelector('#observations table').querySelectorAll('tbody tr')].map((row) => row.getBoundingClientRect().height)`,
      );
      expect(heights.length).toBeGreaterThan(8);
      expect(heights.filter((height) => height > TWO_LINES_PX)).toEqual([]);
    } finally {
      await browser.close();
    }
  }, 60_000);
});
