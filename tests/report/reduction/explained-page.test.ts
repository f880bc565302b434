import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { textOfPage } from '../../support/page-text.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable } from '../../support/table-cells.js';

// The page of one point of the invented day, whose repeats of two other points disagree and which has a second base.
const folder = folderWithExamples();
const DAY = ['reduce-points', 'examples/quillback-pan/fixes.csv', '--session', 'examples/quillback-pan/session.toml'];
let whole: ReportRun;
let one: ReportRun;
let disputed: ReportRun;

beforeAll(async () => {
  whole = await runWithReport(folder, DAY, 'whole');
  one = await runWithReport(folder, [...DAY, '--explain', 'QP-04'], 'one');
  disputed = await runWithReport(folder, [...DAY, '--explain', 'QP-03'], 'disputed');
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of one point', () => {
  it('warns of no other point', () => {
    const others = new Set(whole.rows.map((row) => row['point_id'] ?? '').filter((id) => id !== 'QP-04'));
    const warned = (html: string): string => /<section id="warnings"[\s\S]*?<\/section>/u.exec(html)?.[0] ?? ''; // None is a page without.
    expect([...others].filter((id) => warned(whole.html).includes(id))).toEqual(['QP-03', 'QP-06']);
    expect([...others].filter((id) => warned(one.html).includes(id))).toEqual([]);
    // Its own disagreement is its verdict.
    expect(textOfPage(disputed.html)).toMatch(/disagree/u);
  });

  it('lists the bases that its occupations were measured from, and no other', () => {
    const own = new Set(whole.rows.filter((row) => row['point_id'] === 'QP-04').map((row) => row['base_id']));
    expect(cellsOfTable(whole.html, 'Bases.').length).toBeGreaterThan(own.size);
    expect(cellsOfTable(one.html, 'Bases.').map(([name]) => name)).toEqual([...own]);
  });

  it.skipIf(!hasBrowser)(
    'keeps each line of a table of epochs on one line at 360 pixels, and scrolls it in its own place',
    async () => {
      const browser = await openBrowser();
      try {
        const page = await browser.newPage({ viewport: { width: 360, height: 800 } });
        await page.goto(`file://${one.path}`);
        // The line that follows a table of epochs lies below its last line, at every width.
        for (const width of [1400, 800, 360]) {
          await page.setViewportSize({ width, height: 800 });
          const over = await page.evaluate<
            readonly number[]
          >(`[...document.querySelectorAll('.columns')].flatMap((one) => {
            const next = one.nextElementSibling;
            return next === null ? [] : [one.getBoundingClientRect().bottom - next.getBoundingClientRect().top];
          })`);
          expect(over.length).toBeGreaterThan(0);
          expect(Math.max(...over)).toBeLessThanOrEqual(0);
        }
        const found = await page.evaluate<{ lines: number; rows: number; isWide: boolean }>(`(() => {
          const block = [...document.querySelectorAll('.worked')].find((one) => one.textContent.includes('U [m]'));
          const height = parseFloat(getComputedStyle(block).fontSize);
          const root = document.documentElement;
          return {
            lines: block.clientHeight / height,
            rows: block.textContent.split('\\n').length,
            isWide: root.scrollWidth > root.clientWidth,
          };
        })()`);
        expect(found.rows).toBeGreaterThan(60);
        // A line is some 1.2 of its letters high; one that is broken takes two.
        expect(found.lines / found.rows).toBeLessThan(1.7);
        expect(found.isWide).toBe(false);
      } finally {
        await browser.close();
      }
    },
    60_000,
  );
});
