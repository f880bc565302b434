import { rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { blankShares, hasPdfDrawing } from '../support/blank-pages.js';
import { hasBrowser, openBrowser, printed } from '../support/browser.js';
import { PAGE_RUNS, runEveryPage } from '../support/page-runs.js';
import { runWithReport } from '../support/report-pages.js';
import { plantFailures } from './agreement/planted.js';

// Of every kind of page, and of three with many figures or days, as a browser lays them out.
const MONTH = ['--job', 'examples/quillback-pan-month/job.toml'];
const NETWORK = 'examples/quillback-pan-network';
const MORE: Readonly<Record<string, readonly string[]>> = {
  month: ['reduce-points', ...MONTH],
  'register of a month': ['check-tolerances', 'month-out.csv', ...MONTH, '--register'],
  'network in doubt': [
    'adjust-network',
    '--vectors',
    `${NETWORK}/vectors-with-blunders.csv`,
    '--control',
    `${NETWORK}/control-typed-wrongly.csv`,
    '--pairs',
    `${NETWORK}/pairs.csv`,
    '--system',
    'EPSG:2049',
  ],
};
const NAMES = [...Object.keys(PAGE_RUNS), ...Object.keys(MORE)];
/** A small screen, or half of a large one. */
const NARROW_PX = 800;

describe.skipIf(!hasBrowser)('a page in a browser', () => {
  let browser: Browser;
  let folder: string;

  beforeAll(async () => {
    browser = await openBrowser();
    folder = (await runEveryPage(plantFailures)).folder;
    for (const [name, words] of Object.entries(MORE)) await runWithReport(folder, words, name);
  }, 400_000);

  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it.skipIf(!hasPdfDrawing).each(NAMES)(
    'leaves no third of a sheet blank, the last apart: %s',
    async (name) => {
      const shares = blankShares(await printed(browser, join(folder, `${name}.html`)));
      expect(shares.length).toBeGreaterThan(0);
      expect(shares.filter((share) => share > 1 / 3)).toEqual([]);
    },
    120_000,
  );

  it.each(NAMES)(
    'has no table that scrolls sideways at 800 pixels: %s',
    async (name) => {
      const page = await browser.newPage({ viewport: { width: NARROW_PX, height: 900 } });
      await page.goto(pathToFileURL(join(folder, `${name}.html`)).href);
      const [tables, wide] = await page.evaluate<[number, string[]]>(`(() => {
        const rooms = [...document.querySelectorAll('.scroll')].filter((room) => room.querySelector('table') !== null);
        const wide = rooms.filter((room) => room.scrollWidth > room.clientWidth + 1);
        return [rooms.length, wide.map((room) => room.getAttribute('aria-label') + ', ' + String(room.scrollWidth))];
      })()`);
      await page.close();
      expect(tables).toBeGreaterThan(0);
      expect(wide).toEqual([]);
    },
    60_000,
  );
});
