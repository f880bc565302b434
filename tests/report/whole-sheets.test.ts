import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { blankShares, hasPdfDrawing } from '../support/blank-pages.js';
import { hasBrowser, openBrowser, printed } from '../support/browser.js';
import { PAGE_RUNS, runEveryPage } from '../support/page-runs.js';
import { besideTheFoot, captionsAlone, hasPdfText } from '../support/printed-rows.js';
import { runWithReport } from '../support/report-pages.js';
import { plantFailures } from './agreement/planted.js';

// Of every kind of page, and of three with many figures or days, as a browser lays them out.
const MONTH = ['--job', 'examples/quillback-pan-month/job.toml'];
const NETWORK = 'examples/quillback-pan-network';
const MORE: Readonly<Record<string, readonly string[]>> = {
  month: ['reduce-points', ...MONTH],
  'a plan of one point': [
    'plan-baseline',
    'one.csv',
    '--base',
    '-31.5,21.4,1040',
    '--system',
    'EPSG:2049',
    '--limit-horizontal',
    '0.05',
    '--limit-vertical',
    '0.1',
  ],
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
    writeFileSync(
      join(folder, 'one.csv'),
      'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nP1,-31.6,21.2,1044\n',
    );
    for (const [name, words] of Object.entries(MORE)) await runWithReport(folder, words, name);
  }, 400_000);

  afterAll(async () => {
    await browser.close();
    rmSync(folder, { recursive: true, force: true });
  });

  it.skipIf(!hasPdfDrawing || !hasPdfText).each(NAMES)(
    'leaves no third of a sheet blank, the last apart, which holds more than the foot, and keeps captions with their tables: %s',
    async (name) => {
      const path = join(folder, `${name}.html`);
      const html = readFileSync(path, 'utf8');
      const pdf = await printed(browser, path);
      expect(captionsAlone(html, pdf)).toEqual([]);
      // The first caution that every page ends with.
      expect(besideTheFoot(html, pdf).length).toBeGreaterThan(100);
      const shares = blankShares(pdf);
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
