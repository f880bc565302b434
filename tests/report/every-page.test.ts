import { rmSync } from 'node:fs';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../support/browser.js';
import { HOSTILE_NAMES, asShown } from '../support/hostile-names.js';
import { htmlFaults } from '../support/html-faults.js';
import { SOME_LOOKS, expectGoodLooks, expectGoodPrint } from '../support/page-looks.js';
import { PAGES, surveyPages } from '../support/surveys.js';
import type { SurveyPages } from '../support/surveys.js';
import { cellsOfTable } from '../support/table-cells.js';

// What every page promises, whichever command writes it: bounded size, the same bytes, and safety from names.
const MANY = Array.from({ length: 2000 }, (_, index) => `MP-${String(index + 1)}`);
const TITLE = '</h1><script>x</script> \u202E a title';
const folders: string[] = [];
let many: SurveyPages;
let hostile: SurveyPages;
let again: SurveyPages;

async function pagesOf(ids: readonly string[], name: string): Promise<SurveyPages> {
  const { folder, pages } = await surveyPages(ids, name);
  folders.push(folder);
  return pages;
}

beforeAll(async () => {
  many = await pagesOf(MANY, 'many');
  hostile = await pagesOf(HOSTILE_NAMES, TITLE);
  again = await pagesOf(HOSTILE_NAMES, TITLE);
}, 300_000);

afterAll(() => {
  for (const folder of folders) rmSync(folder, { recursive: true, force: true });
});

describe('a page of two thousand points', () => {
  it.each(PAGES)('stays well under two megabytes: %s', (command) => {
    expect(Buffer.byteLength(many[command].html)).toBeLessThan(1_300_000);
  });

  it('says what it thinned out, of figures and of tables', () => {
    const said: Readonly<Record<(typeof PAGES)[number], readonly RegExp[]>> = {
      reduce: [
        /Of \d+ accepted \d+ are drawn, spread over the plan; all \d+ others are drawn|Of 2000 accepted \d+ are drawn/,
        /40 of 2000 are shown, those to look at first/,
        /The 24 largest of 2000 are drawn/,
      ],
      check: [
        /Of \d+ within \d+ are drawn, spread over the plan; all \d+ others are drawn/,
        /Of \d+ within \d+ are drawn, evenly picked; all \d+ others are drawn/,
        /The page keeps 2000 of 6000 comparisons/,
        /2000 of 6000 are shown, those that exceed first/,
      ],
      plan: [/Of \d+ within \d+ are drawn, spread over the map/, /Of \d+ within 300 are drawn, evenly picked/],
      site: [/Of \d+ within \d+ are drawn, spread over the plan/],
      network: [
        /\d+ of 2001 stations are drawn/,
        /Of 4000 observations \d+ are drawn: .*none that fails is left out/,
        /1000 of 2001 are shown, those to look at first/,
        /1000 of 4000 are shown, those to look at first/,
        /\d+ of 12000 are drawn, evenly picked; none that fails is left out/,
      ],
      carried: [
        /1000 of 2000 are shown, those in doubt first; the data file has all/,
        /\d+ of 2000 points are drawn, spread over the plan/,
      ],
      joined: [
        /1000 of 1999 are shown, those without a ground distance first; the data file has all/,
        /\d+ of 2000 points are drawn, spread over the plan/,
        /60 of 1999 lines are drawn, the longest/,
      ],
    };
    for (const command of PAGES)
      for (const words of said[command])
        expect(words.test(many[command].html), `${command}: ${String(words)}`).toBe(true);
  });

  it('holds a row for each point, or says that the data file has all', () => {
    expect(cellsOfTable(many.reduce.html, 'Points.')).toHaveLength(2000);
    expect(cellsOfTable(many.check.html, 'Comparisons.')).toHaveLength(2000);
    expect(cellsOfTable(many.plan.html, 'Places.')).toHaveLength(2000);
    expect(
      cellsOfTable(many.site.html, 'Fitted.').length + cellsOfTable(many.site.html, 'Kept out to check.').length,
    ).toBe(2000);
    expect(cellsOfTable(many.network.html, 'Stations.')).toHaveLength(1000);
    expect(cellsOfTable(many.carried.html, 'Points.')).toHaveLength(1000);
    expect(cellsOfTable(many.joined.html, 'Distances and heights.')).toHaveLength(1000);
  });
});

describe('a figure', () => {
  it.each(PAGES)('states its frame, and has a title and a description: %s', (command) => {
    const drawings = [
      ...many[command].html.matchAll(
        /<svg [^>]*aria-labelledby="([\w-]+) ([\w-]+)"><title id="([\w-]+)">[^<]+<\/title><desc id="([\w-]+)">[^<]+<\/desc>/g,
      ),
    ];
    expect(drawings.length).toBe(many[command].html.replaceAll('<svg class="whole-one"', '').split('<svg ').length - 1);
    // Points carried or joined have one plan and no more.
    expect(drawings.length).toBeGreaterThan(['carried', 'joined'].includes(command) ? 0 : 1);
    for (const [, title, description, ownTitle, ownDescription] of drawings)
      expect([title, description]).toEqual([ownTitle, ownDescription]);
    // Counts over time have no place and so no frame.
    const figures = [...many[command].html.matchAll(/<figure[^>]*>([\s\S]*?)<\/figure>/g)]
      .map(([, figure]) => figure ?? '')
      .filter((figure) => !figure.includes('id="refused-t"'));
    expect(
      figures.filter((figure) => !/EPSG:\d+ Hartebeesthoek94/.test(figure)).map((figure) => figure.slice(0, 200)),
    ).toEqual([]);
  });
});

describe('a page with hostile names', () => {
  it.each(PAGES)('is the same bytes every time: %s', (command) => {
    expect(again[command].html === hostile[command].html).toBe(true);
  });

  it.each(PAGES)('keeps them text, in its first table and in all else: %s', (command) => {
    const { html } = hostile[command];
    expect(/<(?:script|img|link|iframe|object|embed|b>bold)|<[^>]*\s(?:on[a-z]+|src)=|@import/.exec(html)).toBeNull();
    expect(/[\u202A-\u202E\u2066-\u2069]/.exec(html)).toBeNull();
    expect(html.includes("default-src 'none'")).toBe(true);
    expect(html.includes('x'.repeat(195))).toBe(true);
    expect(html.includes('<bdi>שלום עולם</bdi>')).toBe(true);
    expect(html.includes('&lt;/h1&gt;&lt;script&gt;x&lt;/script&gt; [U+202E] a title')).toBe(
      // These pages name no session, base or source.
      !['site', 'carried', 'joined'].includes(command),
    );
  });

  it('names every point in its table as it was given', () => {
    const shown = HOSTILE_NAMES.map(asShown);
    const first = (html: string, caption: string): readonly string[] =>
      cellsOfTable(html, caption).map(([cell = '']) => cell);
    expect(new Set(first(hostile.reduce.html, 'Points.'))).toEqual(new Set(shown));
    expect([...first(hostile.plan.html, 'Places.')].sort()).toEqual([...shown].sort());
    expect(new Set(first(hostile.check.html, 'Comparisons.'))).toEqual(new Set(shown));
    expect(new Set(first(hostile.network.html, 'Stations.'))).toEqual(new Set([...shown, 'B1']));
    expect(first(hostile.carried.html, 'Points.')).toEqual(shown);
    expect(first(hostile.joined.html, 'Distances and heights.')).toEqual(shown.slice(0, -1));
    expect([...first(hostile.site.html, 'Fitted.'), ...first(hostile.site.html, 'Kept out to check.')].sort()).toEqual(
      [...shown].sort(),
    );
  });

  it('shows the numbers of the data file beside them', () => {
    const dash = (text: string | undefined): string => (text === '' ? '–' : (text ?? '').replace('-', '\u2212'));
    // What fails stands first: rows are found by their names.
    const shownOf = (row: Readonly<Record<string, string>>): string => asShown(row['point_id'] ?? '');
    const compared = cellsOfTable(hostile.check.html, 'Comparisons.').map((cells) => [cells[0], ...cells.slice(5, 8)]);
    for (const row of hostile.check.rows) {
      const differences = ['difference_westing_m', 'difference_southing_m', 'difference_height_m'];
      expect(compared).toContainEqual([shownOf(row), ...differences.map((name) => dash(row[name]))]);
    }
    expect(compared).toHaveLength(hostile.check.rows.length);
    for (const row of hostile.plan.rows) {
      const cells = cellsOfTable(hostile.plan.html, 'Places.').find(([name]) => name === shownOf(row)) ?? [];
      expect([cells[1], cells[4], cells[6]]).toEqual([
        row['verdict'],
        row['circle_95_normal_m'],
        row['vertical_95_normal_m'],
      ]);
    }
    // Points to look at come first in the page, so that rows are found by their name.
    const fitted = hostile.site.rows.filter((row) => row['role'] === 'fit');
    const shown = cellsOfTable(hostile.site.html, 'Fitted.');
    expect(shown).toHaveLength(fitted.length);
    for (const row of fitted) {
      const cells = shown.find(([name]) => name === asShown(row['point_id'] ?? '')); // A row without a name is found nowhere.
      expect(cells?.slice(2, 5), row['point_id']).toEqual(
        ['residual_east_m', 'residual_north_m', 'residual_height_m'].map((name) => dash(row[name])),
      );
    }
  });

  it.each(PAGES)('is valid HTML: %s', async (command) => {
    expect(await htmlFaults(hostile[command].html)).toEqual([]);
  });
});

describe.skipIf(!hasBrowser)('a page with hostile names in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  }, 60_000);
  afterAll(async () => {
    await browser.close();
  });

  it.each(PAGES.filter((command) => command !== 'reduce'))(
    'is quiet, alone, accessible and fits, and prints every row whole: %s',
    async (command) => {
      await expectGoodLooks(browser, hostile[command].path, SOME_LOOKS);
      // Names of two hundred letters make tables of few rows higher than what is left of a sheet.
      await expectGoodPrint(browser, hostile[command].path, hostile[command].html, 2_000_000, 0.6);
    },
    240_000,
  );

  it('of two thousand comparisons prints every row whole', async () => {
    // Two thousand rows of words and numbers, some four kilobytes each.
    await expectGoodPrint(browser, many.check.path, many.check.html, 10_000_000);
  }, 240_000);
});
