import type { Browser } from 'playwright-core';
import { expect } from 'vitest';
import { lookAt, printed } from './browser.js';
import type { Look } from './browser.js';

const LOOKS: readonly Look[] = [
  { widthPx: 360, colours: 'light', media: 'screen' },
  { widthPx: 800, colours: 'dark', media: 'screen' },
  { widthPx: 1400, colours: 'light', media: 'screen' },
];

/** A page that says nothing to the console, asks for nothing, fits, is accessible and prints with no table clipped. */
export async function expectGoodPage(browser: Browser, path: string): Promise<void> {
  for (const look of LOOKS) {
    const seen = await lookAt(browser, path, look);
    expect({ ...look, ...seen, wideTables: [] }).toEqual({ ...look, consoleMessages: [], requests: [], overflowPx: 0, wideTables: [], violations: [] });
  }
  // A4 less two margins of 14 mm is 182 mm, 688 px at 96 to the inch.
  const paper = await lookAt(browser, path, { widthPx: 688, colours: 'light', media: 'print' });
  expect({ overflowPx: paper.overflowPx, wideTables: paper.wideTables }).toEqual({ overflowPx: 0, wideTables: [] });
  expect((await printed(browser, path)).subarray(0, 5).toString()).toBe('%PDF-');
}
