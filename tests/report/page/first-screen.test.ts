import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';

const folder = folderWithExamples();
const paths = new Map<string, string>();

beforeAll(async () => {
  const session = ['--session', 'examples/quillback-pan/session.toml'];
  const limits = ['--limit-horizontal', '0.02', '--limit-vertical', '0.03'];
  await runWithReport(folder, ['reduce-points', 'examples/quillback-pan/fixes.csv', ...session], 'day');
  const control = ['--control', 'examples/quillback-pan/control.csv', '--repeats', '--standard', 'nssda'];
  paths.set(
    'check',
    (await runWithReport(folder, ['check-tolerances', 'day-out.csv', ...session, ...control, ...limits], 'check')).path,
  );
  const net = 'examples/quillback-pan-network';
  const vectors = ['--vectors', `${net}/vectors-with-blunders.csv`, '--control', `${net}/control-typed-wrongly.csv`];
  paths.set(
    'network',
    (await runWithReport(folder, ['adjust-network', ...vectors, '--system', 'EPSG:2049'], 'network')).path,
  );
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

interface Line {
  readonly text: string;
  readonly bottom: number;
}

describe.skipIf(!hasBrowser)('the first screen of a telephone', () => {
  it.each(['check', 'network'])(
    'holds the answer, the worst and what to do next, in this order: %s',
    async (name) => {
      const browser = await openBrowser();
      try {
        const page = await browser.newPage({ viewport: { width: 360, height: 800 } });
        await page.goto(`file://${paths.get(name) ?? ''}`);
        const lines = await page.evaluate<readonly Line[]>(
          `[...document.querySelectorAll('.verdict p')].map((line) => ({ text: line.textContent, bottom: line.getBoundingClientRect().bottom }))`,
        );
        const at = (head: RegExp): number => lines.findIndex(({ text }) => head.test(text));
        const order = [/^(?:Not within|For review)\./u, /^(?:Worst|Look first)/u, /^Next\./u].map(at);
        expect(order).toEqual(order.toSorted((a, b) => a - b));
        expect(order).not.toContain(-1);
        expect(order[0]).toBe(0);
        const likeliest = at(/^Likeliest cause\./u);
        if (likeliest >= 0) expect(likeliest).toBeLessThan(order[2] ?? -1);
        expect(lines[order[2] ?? -1]?.bottom).toBeLessThanOrEqual(800);
        // Who measured when, and what was not done, can wait.
        expect(at(/^Not done\./u)).toBeGreaterThan(order[2] ?? Infinity);
      } finally {
        await browser.close();
      }
    },
    60_000,
  );
});
