import type { Browser } from 'playwright-core';
import { expect } from 'vitest';
import { looksAt, printed } from './browser.js';
import type { Look } from './browser.js';
import { blankShares, hasPdfDrawing } from './blank-pages.js';
import { hasPdfText, rowsNotWhole } from './printed-rows.js';

/** What a printed page of a day may take: patterns and lines far beyond a figure once made it ten times as large. */
const MOST_PDF_BYTES = 2_000_000;
/** No sheet but the last leaves more of its height blank. */
const MOST_BLANK = 1 / 3;
const WIDTHS = [360, 800, 1400] as const;

// A4 less two margins of 14 mm is 182 mm, 688 px at 96 to the inch.
const PAPER: Look = { widthPx: 688, colours: 'light', media: 'print' };

/** Every width by day and by night, and paper, whatever the colours of the screen. */
export const EVERY_LOOK: readonly Look[] = [
  ...WIDTHS.flatMap((widthPx): readonly Look[] => [
    { widthPx, colours: 'light', media: 'screen' },
    { widthPx, colours: 'dark', media: 'screen' },
  ]),
  PAPER,
  { ...PAPER, colours: 'dark' },
];

/** One of each, where pages are many. */
export const SOME_LOOKS: readonly Look[] = [
  { widthPx: 360, colours: 'dark', media: 'screen' },
  { widthPx: 1400, colours: 'light', media: 'screen' },
  PAPER,
];

/** A page that says nothing to the console, asks for nothing, fits, is accessible and has no word of a drawing cut off or on another. */
export async function expectGoodLooks(browser: Browser, path: string, looks: readonly Look[]): Promise<void> {
  const seen = await looksAt(browser, path, looks);
  const shown = seen.map((one, index) => ({
    ...looks[index],
    ...one,
    wideTables: looks[index]?.media === 'print' ? one.wideTables : [],
  }));
  expect(shown).toEqual(
    looks.map((look) => ({
      ...look,
      consoleMessages: [],
      requests: [],
      overflowPx: 0,
      wideTables: [],
      cutWords: [],
      wordsOnWords: [],
      outOfFrame: [],
      outOfSight: [],
      violations: [],
    })),
  );
}

/** A page whose rows all stand whole on one sheet of A4, read back from the PDF where a program for that is installed. */
export async function expectGoodPrint(
  browser: Browser,
  path: string,
  html: string,
  mostBytes: number = MOST_PDF_BYTES,
  mostBlank: number = MOST_BLANK,
): Promise<void> {
  const pdf = await printed(browser, path);
  expect(pdf.length).toBeLessThan(mostBytes);
  expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
  if (hasPdfText) expect(rowsNotWhole(html, pdf)).toEqual([]);
  if (hasPdfDrawing) expect(blankShares(pdf).filter((share) => share > mostBlank)).toEqual([]);
}
