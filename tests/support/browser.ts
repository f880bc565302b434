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
  const quiet = ['--headless', '--no-sandbox', '--disable-gpu', '--disable-quic', '--no-first-run', '--disable-background-networking', '--disable-component-update', '--disable-sync'];
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
  /** Tables wider than the text, by their caption. */
  readonly wideTables: readonly string[];
  readonly violations: readonly string[];
}

const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

/** Opens a page from its file and looks at it. */
export async function lookAt(browser: Browser, path: string, look: Look): Promise<Seen> {
  const context = await browser.newContext({ viewport: { width: look.widthPx, height: 900 }, colorScheme: look.colours });
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
    await page.emulateMedia({ media: look.media, colorScheme: look.colours });
    await page.goto(address, { waitUntil: 'load' });
    const { overflowPx, wideTables } = await page.evaluate(measure);
    await page.evaluate(axe);
    const violations = await page.evaluate(`axe.run().then((found) => found.violations.map((one) => one.id + ': ' + one.nodes[0].html.slice(0, 200)))`);
    return { consoleMessages, requests, overflowPx, wideTables, violations: violations as string[] };
  } finally {
    await context.close();
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

const measure = `(() => {
  const page = document.documentElement;
  const room = document.querySelector('main').getBoundingClientRect().width + 1;
  const wide = [...document.querySelectorAll('table')].filter((table) => table.getBoundingClientRect().width > room);
  return { overflowPx: page.scrollWidth - page.clientWidth, wideTables: wide.map((table) => table.caption.textContent) };
})()` as unknown as () => { overflowPx: number; wideTables: string[] };
