import { existsSync, readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { pathToFileURL } from 'node:url';
import { chromium } from 'playwright-core';
import type { Browser } from 'playwright-core';

/** Debian's Chromium; continuous integration installs it. */
const CHROMIUM = '/usr/bin/chromium';

/** False where there is no browser; tests then skip and say so. */
export const hasBrowser: boolean = existsSync(CHROMIUM);

if (!hasBrowser) process.stderr.write(`pages are not opened in a browser: ${CHROMIUM} is not installed\n`);

export async function openBrowser(): Promise<Browser> {
  const quiet = [
    '--headless',
    '--no-sandbox',
    '--disable-gpu',
    '--disable-quic',
    '--no-first-run',
    '--disable-background-networking',
    '--disable-component-update',
    '--disable-sync',
  ];
  return chromium.launch({ executablePath: CHROMIUM, args: quiet });
}

/** How a page is looked at. */
export interface Look {
  readonly widthPx: number;
  readonly colours: 'light' | 'dark';
  readonly media: 'screen' | 'print';
}

/** What a browser made of a page. */
export interface Seen {
  readonly consoleMessages: readonly string[];
  /** Addresses asked for, the page's own excepted. */
  readonly requests: readonly string[];
  /** How much wider the page is than its window. */
  readonly overflowPx: number;
  /** Tables wider than the text, by their caption; on a screen they scroll. */
  readonly wideTables: readonly string[];
  /** Words of drawings that reach beyond their drawing. */
  readonly cutWords: readonly string[];
  /** Words of drawings that lie on other words. */
  readonly wordsOnWords: readonly string[];
  /** Words at the marks of a drawing that reach beyond its frame; the letter at the arrow of north stands outside. */
  readonly outOfFrame: readonly string[];
  /** Arrows of north and scales of ground that cannot be seen without scrolling sideways. */
  readonly outOfSight: readonly string[];
  readonly violations: readonly string[];
}

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Opens a page from its file and looks at it in each way. */
export async function looksAt(browser: Browser, path: string, looks: readonly Look[]): Promise<readonly Seen[]> {
  const context = await browser.newContext({ viewport: { width: 800, height: 900 } });
  try {
    const page = await context.newPage();
    const consoleMessages: string[] = [];
    const requests: string[] = [];
    const address = pathToFileURL(path).href;
    page.on('console', (message) => consoleMessages.push(message.text()));
    page.on('pageerror', (error) => consoleMessages.push(error.message));
    page.on('request', (request) => {
      if (request.url() !== address) requests.push(request.url());
    });
    await page.goto(address, { waitUntil: 'load' });
    await page.evaluate(axe);
    const seen: Seen[] = [];
    for (const look of looks) {
      await page.setViewportSize({ width: look.widthPx, height: 900 });
      await page.emulateMedia({ media: look.media, colorScheme: look.colours });
      const { overflowPx, wideTables, cutWords, wordsOnWords, outOfFrame, outOfSight } = await page.evaluate(measure);
      const violations = await page.evaluate(
        `axe.run().then((found) => found.violations.map((one) => one.id + ': ' + one.nodes[0].html.slice(0, 200)))`,
      );
      seen.push({
        consoleMessages: [...consoleMessages],
        requests: [...requests],
        overflowPx,
        wideTables,
        cutWords,
        wordsOnWords,
        outOfFrame,
        outOfSight,
        violations: violations as string[],
      });
    }
    return seen;
  } finally {
    await context.close();
  }
}

/** The same of the words of drawings alone, on a wide screen. */
export async function wordsAt(browser: Browser, path: string): Promise<ReturnType<typeof measure>> {
  const page = await browser.newPage({ viewport: { width: 1400, height: 900 } });
  try {
    await page.goto(pathToFileURL(path).href);
    return await page.evaluate(measure);
  } finally {
    await page.close();
  }
}

/** The page printed on A4, as bytes of a PDF. */
export async function printed(browser: Browser, path: string): Promise<Buffer> {
  const page = await browser.newPage();
  try {
    await page.goto(pathToFileURL(path).href);
    return await page.pdf({ format: 'A4', preferCSSPageSize: true });
  } finally {
    await page.close();
  }
}

// Words of a drawing are measured by their boxes, which are higher than their letters: two may share a fifth of a line.
const measure = `(() => {
  const page = document.documentElement;
  const room = document.querySelector('main').getBoundingClientRect().width + 1;
  const wide = [...document.querySelectorAll('table')].filter((table) => table.getBoundingClientRect().width > room);
  const cutWords = [];
  const wordsOnWords = [];
  const outOfFrame = [];
  const outOfSight = [];
  for (const drawing of document.querySelectorAll('svg:not(.whole-one)')) {
    const frame = drawing.getBoundingClientRect();
    const name = drawing.querySelector('title').textContent;
    const words = [...drawing.querySelectorAll('text')].map((text) => ({ text: text.textContent, box: text.getBoundingClientRect() }));
    const lines = name.startsWith('The sky at') ? [] : [...drawing.querySelectorAll('path.axis,path.grid')].map((line) => line.getBoundingClientRect());
    const [left, right] = [Math.min(...lines.map((line) => line.left)), Math.max(...lines.map((line) => line.right))];
    for (const word of lines.length === 0 ? [] : drawing.querySelectorAll('text.halo')) {
      const box = word.getBoundingClientRect();
      if (word.textContent !== 'N' && (box.left < left - 1 || box.right > right + 1)) outOfFrame.push(name + ': ' + word.textContent);
    }
    for (const { text, box } of words) {
      if ((text === 'N' || text.endsWith(' of ground')) && box.right > page.clientWidth) outOfSight.push(name + ': ' + text);
      if (box.left < frame.left - 1 || box.right > frame.right + 1 || box.top < frame.top - 2 || box.bottom > frame.bottom + 2) cutWords.push(name + ': ' + text);
    }
    for (const [i, a] of words.entries()) {
      for (const b of words.slice(0, i)) {
        const across = Math.min(a.box.right, b.box.right) - Math.max(a.box.left, b.box.left);
        const down = Math.min(a.box.bottom, b.box.bottom) - Math.max(a.box.top, b.box.top);
        if (across > 1.5 && down > 0.35 * Math.min(a.box.height, b.box.height)) wordsOnWords.push(name + ': ' + b.text + ' / ' + a.text);
      }
    }
  }
  return { overflowPx: page.scrollWidth - page.clientWidth, wideTables: wide.map((table) => table.caption.textContent), cutWords, wordsOnWords, outOfFrame, outOfSight };
})()` as unknown as () => {
  overflowPx: number;
  wideTables: string[];
  cutWords: string[];
  wordsOnWords: string[];
  outOfFrame: string[];
  outOfSight: string[];
};
