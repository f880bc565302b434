import { copyFileSync, readdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser, wordsAt } from '../../support/browser.js';
import { runEveryPage } from '../../support/page-runs.js';
import { surveyPages } from '../../support/surveys.js';
import { plantFailures } from '../agreement/planted.js';

// By geometry in a browser: words at the marks of every figure stay inside its frame and off each other, whatever stands on the page.
const names = (count: number, before: string): readonly string[] =>
  Array.from({ length: count }, (_, index) => `${before}${String(index + 1)}`);
/** Control of the site as the example has it. */
const asItIs = (folder: string): void => {
  copyFileSync(join(folder, 'examples/quillback-pan-site/control.csv'), join(folder, 'site-control.csv'));
};
/** Of each kind of page a folder of them. */
const STATES: Readonly<Record<string, () => Promise<string>>> = {
  'nine points': async () => (await surveyPages(names(9, 'P'), 'few')).folder,
  'sixty points of long names': async () => (await surveyPages(names(60, 'Peg by the river '), 'sixty')).folder,
  'five hundred points': async () => (await surveyPages(names(500, 'MP-'), 'many')).folder,
  'every kind as it is': async () => (await runEveryPage(asItIs)).folder,
  'every kind with failures': async () => (await runEveryPage(plantFailures)).folder,
};

describe.skipIf(!hasBrowser)('words of figures stay inside their frame and off each other', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  }, 60_000);
  afterAll(async () => {
    await browser.close();
  });

  it.each(Object.keys(STATES))(
    'with %s',
    async (state) => {
      const folder = await (STATES[state] ?? (() => Promise.reject(new Error(state))))();
      try {
        const pages = readdirSync(folder).filter((name) => name.endsWith('.html'));
        expect(pages.length).toBeGreaterThan(6);
        const found: string[] = [];
        for (const name of pages) {
          const { outOfFrame, wordsOnWords, cutWords } = await wordsAt(browser, join(folder, name));
          found.push(...[...outOfFrame, ...wordsOnWords, ...cutWords].map((word) => `${name}: ${word}`));
        }
        expect(found).toEqual([]);
      } finally {
        rmSync(folder, { recursive: true, force: true });
      }
    },
    240_000,
  );
});
