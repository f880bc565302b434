import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { HOSTILE_NAMES } from '../../support/hostile-names.js';
import { htmlFaults } from '../../support/html-faults.js';
import { SOME_LOOKS, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable, plainText } from '../../support/table-cells.js';

// The invented places under a real sky: figures of the page are those of the tables that the same run writes.
const folder = folderWithExamples();
const SKY = 'examples/quillback-pan-sky';
const TIME = ['--date', '2025-08-02', '--from-time', '06:00', '--to-time', '12:00'];
let page: ReportRun;
let hostile: ReportRun;
let windows: readonly Readonly<Record<string, string>>[];

beforeAll(async () => {
  const rest = [
    '--navigation',
    `${SKY}/navigation.rnx`,
    '--masks',
    `${SKY}/masks.csv`,
    '--system',
    'EPSG:4326',
    ...TIME,
  ];
  const base = ['--base', '-31.5,21.4,1040', '--windows', 'windows.csv'];
  page = await runWithReport(folder, ['plan-sky', `${SKY}/points.csv`, ...base, ...rest], 'sky');
  windows = parse(readFileSync(join(folder, 'windows.csv')), { columns: true });
  const quoted = HOSTILE_NAMES.map(
    (name, index) => `"${name.replaceAll('"', '""')}",${String(-31.5 - index / 100)},21.4`,
  );
  writeFileSync(join(folder, 'hostile.csv'), `point_id,latitude_deg,longitude_deg\n${quoted.join('\n')}\n`);
  hostile = await runWithReport(folder, ['plan-sky', 'hostile.csv', ...rest, '--interval', '60'], 'hostile');
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of a sky', () => {
  it('begins with the answer, its limits, the site with the least time and what was not measured', () => {
    const opening = plainText(/<div class="verdict">([\s\S]*?)<\/div>/.exec(page.html)?.[1] ?? '');
    expect(opening).toContain('For review.');
    expect(opening).toContain('4 sites, 3 within the limits all the time, 1 part of it, 0 never');
    expect(opening).toContain('PDOP 4.0 at most, 6 satellites at least, above 10.0°');
    expect(opening).toContain('Least time. QS-03:');
    expect(opening).toContain('Without a measured skyline: 1 place');
  });

  it('sends work into the windows of sites that have some, and says what helps sites that have none', async () => {
    const sky = ['--navigation', `${SKY}/navigation.rnx`, '--masks', `${SKY}/masks.csv`, '--system', 'EPSG:4326'];
    const { html, rows } = await runWithReport(
      folder,
      ['plan-sky', `${SKY}/points.csv`, ...sky, ...TIME, '--limit-pdop', '2'],
      'strict',
    );
    const opening = plainText(/<div class="verdict">([\s\S]*?)<\/div>/.exec(html)?.[1] ?? '');
    // By the rows of the day: a site has hours within the limits where some instant has PDOP 2 or less from six satellites on.
    const good = (row: Readonly<Record<string, string>>): boolean =>
      row['pdop'] !== '' && Number(row['pdop']) <= 2 && Number(row['satellites']) >= 6;
    const sites = [...new Set(rows.map((row) => row['point_id'] ?? ''))];
    const shares = sites.map((site) => {
      const own = rows.filter((row) => row['point_id'] === site);
      return { site, share: own.filter(good).length / own.length };
    });
    const never = shares.filter(({ share }) => share === 0).map(({ site }) => site);
    const partly = shares.filter(({ share }) => share > 0 && share < 1).map(({ site }) => site);
    expect([never.length, partly.length].every((count) => count > 0)).toBe(true);
    const named = /Next\. No hour serves ([^:]*):.*Put the work at (.*?) into its windows/.exec(opening);
    expect([named?.[1], named?.[2]].map((list) => (list ?? '').split(', ').sort())).toEqual([
      never.sort(),
      partly.sort(),
    ]);
    expect(opening).toContain('Not done. No base was named');
  });

  it('has the windows of the data file, in order', () => {
    const shown = cellsOfTable(page.html, 'Windows.');
    expect(shown.map(([site, from, to, length, , fewest]) => [site, from, to, length, fewest])).toEqual(
      windows.map((row) => [
        row['point_id'],
        row['from_utc']?.slice(0, 16).replace('T', ', '),
        row['to_utc']?.slice(0, 16).replace('T', ', '),
        String(Math.round(Number(row['minutes']))),
        row['fewest_satellites'],
      ]),
    );
  });

  it('has the fewest and the most satellites of each site as the table of the day has them', () => {
    for (const [site, , , fewest, most] of cellsOfTable(page.html, 'Every site.')) {
      const counts = page.rows.filter((row) => row['point_id'] === site).map((row) => Number(row['satellites']));
      expect([fewest, most]).toEqual([String(Math.min(...counts)), String(Math.max(...counts))]);
    }
  });

  it('draws each site: what its skyline hides, where each limit is missed, and names of satellites', () => {
    const drawings = page.html.match(/<svg [^>]*aria-labelledby="sky-\d+-t[\s\S]*?<\/svg>/g) ?? [];
    expect(drawings).toHaveLength(4);
    // Each plot is shaded where its own limit is missed, by the reasons of the data file.
    const own = windows.filter((row) => row['point_id'] === 'QS-03' && row['verdict'] === 'no');
    const reasons = own.flatMap((row) => (row['reasons'] ?? '').split(';'));
    expect(reasons.length).toBeGreaterThan(0);
    const first = drawings[0] ?? '';
    expect(first).toContain('The sky at QS-03');
    expect(first.split('<rect class="gone"').length - 1).toBe(reasons.length);
    expect(first).toContain('<path class="gone"');
    expect(first).toMatch(/>G\d\d<\/text>/);
    expect(drawings.find((drawing) => drawing.includes('The sky at QS-01'))).not.toContain('<path class="gone"');
  });

  it('is valid HTML, says no number that is none, and is safe from names', async () => {
    for (const { html } of [page, hostile]) {
      expect(await htmlFaults(html)).toEqual([]);
      expect(html).not.toMatch(/NaN|Infinity|undefined/);
      expect(html).not.toContain('<script');
    }
  });

  it.skipIf(!hasBrowser)(
    'looks well on a screen and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, page.path, SOME_LOOKS);
        await expectGoodPrint(browser, page.path, page.html);
      } finally {
        await browser.close();
      }
    },
    120_000,
  );
});
