import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser, printed } from '../support/browser.js';
import { folderWithExamples, runWithReport, writeFixes } from '../support/report-pages.js';
import { surveySession } from '../support/surveys.js';

// A page printed to a file stays below two megabytes: patterns, and rings that are not cut at the frame, have made one point 24 and a day 31 of them.
const MOST_BYTES = 2_000_000;
const folders: string[] = [];
const paths = new Map<string, string>();

describe.skipIf(!hasBrowser)('a printed page is below two megabytes', () => {
  let browser: Browser;

  beforeAll(async () => {
    browser = await openBrowser();
    const folder = folderWithExamples();
    folders.push(folder);
    writeFileSync(
      join(folder, 'one.csv'),
      'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m,tolerance_horizontal_m,tolerance_vertical_m\nP1,-31.6,21.2,1044,0.03,0.05\n',
    );
    const place = ['--base', '-31.5,21.4,1040', '--system', 'EPSG:2049'];
    const one = await runWithReport(folder, ['plan-baseline', 'one.csv', ...place], 'one');
    paths.set('a plan of one point', one.path);
    const session = ['--session', 'examples/quillback-pan/session.toml'];
    const day = await runWithReport(folder, ['reduce-points', 'examples/quillback-pan/fixes.csv', ...session], 'day');
    paths.set('the reduction of a day', day.path);
    writeFixes(
      folder,
      'fixes.csv',
      Array.from({ length: 500 }, (_, index) => `MP-${String(index + 1)}`),
    );
    writeFileSync(join(folder, 'many.toml'), surveySession('five hundred'));
    const own = ['--session', 'many.toml'];
    const many = await runWithReport(folder, ['reduce-points', 'fixes.csv', ...own], 'many');
    paths.set('the reduction of 500 points', many.path);
    const limits = ['--limit-horizontal', '0.05', '--limit-vertical', '0.1'];
    const plan = await runWithReport(folder, ['plan-baseline', 'many-out.csv', ...place, ...limits], 'plan');
    paths.set('the plan of 500 points', plan.path);
    const control = 'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nB1,-31.5,21.4,1044.5\n';
    writeFileSync(join(folder, 'base.csv'), control);
    const network = await runWithReport(
      folder,
      ['adjust-network', 'many-out.csv', ...own, '--control', 'base.csv'],
      'network',
    );
    paths.set('the adjustment of 500 stations', network.path);
  }, 300_000);

  afterAll(async () => {
    await browser.close();
    for (const folder of folders) rmSync(folder, { recursive: true, force: true });
  });

  it.each([
    'a plan of one point',
    'the reduction of a day',
    'the reduction of 500 points',
    'the plan of 500 points',
    'the adjustment of 500 stations',
  ])(
    '%s',
    async (name) => {
      const pdf = await printed(browser, paths.get(name) ?? '');
      expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
      // A page of nothing would be small too.
      expect(pdf.length).toBeGreaterThan(20_000);
      expect(pdf.length).toBeLessThan(MOST_BYTES);
    },
    120_000,
  );
});
