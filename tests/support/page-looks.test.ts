import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, looksAt, openBrowser, printed } from './browser.js';
import { hasPdfText, rowsNotWhole } from './printed-rows.js';

// What the tests of pages look for is planted here, so that they are known to see it.
const scratch = mkdtempSync(join(tmpdir(), 'pegbook-looks-'));
let browser: Browser;

beforeAll(async () => {
  if (hasBrowser) browser = await openBrowser();
});
afterAll(async () => {
  if (hasBrowser) await browser.close();
  rmSync(scratch, { recursive: true, force: true });
});

function pageOf(body: string, style: string = ''): { readonly path: string; readonly html: string } {
  const html = `<!DOCTYPE html><html lang="en"><head><title>t</title><style>@page{size:A4;margin:16mm 14mm}${style}</style></head><body><main>${body}</main></body></html>`;
  const path = join(scratch, 'page.html');
  writeFileSync(path, html);
  return { path, html };
}

const drawing = (texts: string): string =>
  `<svg viewBox="0 0 200 50" width="200" height="50"><title>Drawing</title>${texts}</svg>`;
const rows = (cells: string): string =>
  `<table><caption>Rows.</caption><tbody>${Array.from({ length: 300 }, (_, i) => `<tr><th>ROW-${String(i)}</th>${cells}<td>end-${String(i)}</td></tr>`).join('')}</tbody></table>`;

describe.skipIf(!hasBrowser)('a look at a page', () => {
  const look = { widthPx: 360, colours: 'light', media: 'screen' } as const;

  it('sees words cut off and words on words', async () => {
    const { path } = pageOf(
      drawing(
        '<text x="170" y="20">cut off here</text><text x="10" y="20">first</text><text x="14" y="22">second</text><text x="10" y="45">alone</text>',
      ),
    );
    const [seen] = await looksAt(browser, path, [look]);
    expect(seen?.cutWords).toEqual(['Drawing: cut off here']);
    expect(seen?.wordsOnWords).toEqual(['Drawing: first / second']);
  });

  it('sees words at marks that leave the frame, and lets the letter of the arrow stand outside', async () => {
    const { path } = pageOf(
      drawing(
        '<path class="axis" d="M20 5V40H120" fill="none" stroke="black"/><text x="100" y="20" class="s halo">B1 to P1</text><text x="30" y="30" class="s halo">P2</text><text x="4" y="48" class="m halo">N</text><text x="130" y="48">scale</text>',
      ),
    );
    const [seen] = await looksAt(browser, path, [look]);
    expect(seen?.outOfFrame).toEqual(['Drawing: B1 to P1']);
  });

  it('sees overflow, wide tables, requests, messages and faults of accessibility', async () => {
    const { path } = pageOf(
      '<img src="https://example.invalid/x.png"><table style="width:900px"><caption>Wide.</caption><tbody><tr><td>1</td></tr></tbody></table><script>console.log("said")</script>',
    );
    const [seen] = await looksAt(browser, path, [look]);
    expect(seen?.overflowPx).toBeGreaterThan(400);
    expect(seen?.wideTables).toEqual(['Wide.']);
    expect(seen?.requests).toEqual(['https://example.invalid/x.png']);
    expect(seen?.consoleMessages.some((text) => text.includes('said'))).toBe(true);
    expect(seen?.violations.some((text) => text.startsWith('image-alt'))).toBe(true);
  });

  it.skipIf(!hasPdfText)(
    'sees rows cut by the paper’s edge or by the end of a sheet, and none in a good table',
    async () => {
      const good = pageOf(rows('<td>some words</td>'), 'tr{break-inside:avoid}');
      expect(rowsNotWhole(good.html, await printed(browser, good.path))).toEqual([]);
      const wide = pageOf(
        rows('<td style="white-space:nowrap;min-width:420mm;display:block">some words</td>'),
        'tr{break-inside:avoid}body{width:180mm}main{overflow:hidden}',
      );
      expect(rowsNotWhole(wide.html, await printed(browser, wide.path)).length).toBeGreaterThan(290);
      const broken = pageOf(
        rows('<td style="width:20mm">one two three four five six seven eight nine ten eleven twelve</td>'),
      );
      expect(rowsNotWhole(broken.html, await printed(browser, broken.path)).length).toBeGreaterThan(0);
    },
  );
});
