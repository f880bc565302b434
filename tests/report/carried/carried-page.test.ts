import { rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable } from '../../support/table-cells.js';

const folder = folderWithExamples();
const SITE = ['--site', 'examples/quillback-pan-site/site.json', '--extrapolate'];
const CONTROL = 'examples/quillback-pan/control.csv';
let onSite: ReportRun;
let toUtm: ReportRun;
let geographic: ReportRun;
let geocentric: ReportRun;
let ground: ReportRun;
let refused: ReportRun;
let outside: ReportRun;
let wrongZone: ReportRun;

beforeAll(async () => {
  const run = (words: readonly string[], name: string): Promise<ReportRun> =>
    runWithReport(folder, ['transform', ...words], name);
  onSite = await run(['examples/quillback-pan-site/points.csv', ...SITE], 'site');
  toUtm = await run([CONTROL, '--from', 'EPSG:2049', '--to', 'EPSG:32734', '--operation', 'EPSG:1505'], 'utm');
  geographic = await run([CONTROL, '--from', 'EPSG:2049', '--to', 'EPSG:4148', '--angles', 'dms'], 'dms');
  writeFileSync(
    join(folder, 'xyz.csv'),
    'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nP1,52.5,13.4,43\nP2,52.51,13.41,50\n',
  );
  geocentric = await run(['xyz.csv', '--from', 'EPSG:4937', '--to', 'EPSG:4936'], 'xyz');
  ground = await run([CONTROL, '--from', 'EPSG:2049', '--ground-at', '-31.5,21.36,1040'], 'ground');
  writeFileSync(
    join(folder, 'bad.csv'),
    'point_id,westing_m,southing_m\nA,-32000,3481000\nB,12x,3481000\nC,-32010,y\nD,-32020,3481010\n',
  );
  refused = await run(['bad.csv', '--from', 'EPSG:2049', '--to', 'EPSG:4148', '--on-error', 'skip'], 'refused');
  writeFileSync(join(folder, 'far.csv'), 'point_id,latitude_deg,longitude_deg\nIN,-31.5,21.4\nFAR,-31.5,25.4\n');
  outside = await run(['far.csv', '--from', 'EPSG:4148', '--to', 'EPSG:2049'], 'far');
  // Some 800 km west of the zone about 33° east.
  writeFileSync(join(folder, 'zone.csv'), 'point_id,westing_m,southing_m\nP1,800000,3100000\nP2,800100,3100100\n');
  wrongZone = await run(['zone.csv', '--from', 'EPSG:2055', '--to', 'EPSG:4148'], 'zone');
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const dash = (text: string | undefined): string => (text === '' ? '–' : (text ?? '').replace('-', '\u2212'));

describe('the page of carried points', () => {
  it.each([
    ['onto a site', () => onSite],
    ['by an operation', () => toUtm],
    ['to degrees, minutes and seconds', () => geographic],
    ['to the ground', () => ground],
    ['with rows refused', () => refused],
  ])('shows every number of the data file, by its point: %s', (_, run) => {
    const { html, rows } = run();
    const cells = new Map(cellsOfTable(html, 'Points.').map((row) => [row[0] ?? '', row]));
    expect(cells.size).toBe(rows.length);
    for (const row of rows) {
      const shown = cells.get(row['point_id'] ?? '') ?? [];
      const own = Object.entries(row)
        .filter(([name]) =>
          /^(?:ground_|easting|northing|westing|southing|latitude|longitude|(?:ortho|ellips)\w+_height|outside|site_sigma)/u.test(
            name,
          ),
        )
        .map(([, text]) => dash(text));
      expect(own.length).toBeGreaterThan(1);
      expect(shown.slice(1, own.length + 1)).toEqual(own);
    }
  });

  it('begins with what came out, by what, how well it is known and what to do next', () => {
    const said = textOf(toUtm.html);
    expect(said).toContain('Done. 3 points from EPSG:2049 Hartebeesthoek94 / Lo21 to EPSG:32734 WGS 84 / UTM zone 34S');
    // Accuracy of the registry: EPSG dataset, operation 1505.
    expect(said).toContain(
      'By Hartebeesthoek94 to WGS 84 (1) (EPSG:1505, stated accuracy 1.000 m; EPSG dataset, operation 1505)',
    );
    expect(said).toContain('Compare a point that is known in both systems: the operation is stated to 1.00 m');
    expect(said).toContain('Left out, because they do not hold any more: the sigmas. ');
    expect(textOf(geographic.html)).toContain('By a conversion alone. Both systems stand on one frame');
  });

  it('puts a point outside the control of a site first, and says by how much', () => {
    const [first, second] = cellsOfTable(onSite.html, 'Points.');
    expect([first?.[0], second?.[0]]).toEqual(['QS-31', 'QS-1']);
    expect(first?.at(-1)).toBe('site-outside-control');
    const outsideM = onSite.rows.find((row) => row['point_id'] === 'QS-31')?.['outside_control_m'] ?? '';
    expect(textOf(onSite.html)).toContain(
      `Farthest outside its control: QS-31, ${(Number(outsideM) / 1000).toFixed(1)} km.`,
    );
    expect(textOf(onSite.html)).toContain('Measure a known point of the site near QS-31');
  });

  it('says no path of our own files and no name of a column where a client reads first', () => {
    const opening = /<div class="verdict">([\s\S]*?)<\/div>/u.exec(onSite.html)?.[1] ?? '';
    expect(textOf(opening)).toContain('By the fitted site: similarity and height plane (AITKEN-1935).');
    expect(opening).not.toContain('docs/');
    expect(textOf(opening)).not.toMatch(/\w_m\b/u);
    // Each size once: the distance outside stands with the uncertainty.
    expect(textOf(opening).split(/\d k?m\b/u)).toHaveLength(2);
  });

  it('says of coordinates scaled to the ground where the scale fits least, and cuts no circle of the plan', () => {
    expect(textOf(ground.html)).toMatch(
      /Ground\. Worst point against the scale, C-0\d: \d+\.\d\d ppm, \d+\.\d mm over the extent\./u,
    );
    const frame =
      /<clipPath id="points-figure-clip"><rect x="([\d.]+)" y="([\d.]+)" width="([\d.]+)" height="([\d.]+)"/u;
    for (const { html } of [onSite, ground]) {
      const [left = NaN, top = NaN, width = NaN, height = NaN] = (frame.exec(html) ?? []).slice(1).map(Number);
      const circles = [...html.matchAll(/<ellipse [^>]*rx="([\d.]+)"[^>]*translate\(([\d.]+) ([\d.]+)\)/gu)];
      if (html === onSite.html) expect(circles.length).toBeGreaterThan(8);
      for (const [, r, x, y] of circles.map((found) => found.map(Number)))
        expect(
          Math.min((x ?? 0) - left, left + width - (x ?? 0), (y ?? 0) - top, top + height - (y ?? 0)),
        ).toBeGreaterThanOrEqual((r ?? NaN) - 0.2);
    }
  });

  it('gives the 95 % circle of equal sigmas as 2.4477 of one', () => {
    // Source: FGDC-STD-007.3-1998, appendix 3-A: the 95 % circle of a circular normal error is 2.4477 sigma.
    for (const row of onSite.rows) {
      const sigma = (Number(row['site_sigma_east_m']) + Number(row['site_sigma_north_m'])) / 2;
      const cells = cellsOfTable(onSite.html, 'Points.').find(([id]) => id === row['point_id']) ?? [];
      // Sigmas are written to a tenth of a millimetre.
      expect(Math.abs(Number(cells.at(-2)) - 2.4477 * 1000 * sigma)).toBeLessThan(0.3);
    }
  });

  it('counts refused rows by reason with their first lines', () => {
    expect(cellsOfTable(refused.html, 'Refused.')).toEqual([['value-not-a-number', '2', '3, 4']]);
    expect(textOf(refused.html)).toContain('Not within. 2 points');
    expect(textOf(refused.html)).toContain('Refused: 2 (value-not-a-number 2)');
    expect(textOf(refused.html)).toContain('Mend the 2 rows that were refused');
  });

  it('marks points outside the area of use', () => {
    expect(cellsOfTable(outside.html, 'Points.').map((row) => [row[0], row.at(-1)])).toEqual([
      ['FAR', 'coordinate-outside-area'],
      ['IN', ''],
    ]);
    expect(textOf(outside.html)).toContain('Check the zone of the points outside the area of use.');
  });

  it('asks for review where points lie outside an area, and says how many and the worst', () => {
    // 3.4° of longitude beyond 22° east are 323 km at 31.5° south (a degree of the parallel is 95 km, by GRS 80).
    expect(textOf(outside.html)).toMatch(
      /For review\. 2 points from .*Outside\. 1 point is outside the area of use of EPSG:2049, the farthest by 32\d km \(FAR\)\./u,
    );
    // The file is said to be in a zone that it is not in: both areas are left, one of them without a warning of its own.
    const said = textOf(wrongZone.html);
    expect(said).toMatch(/For review\. 2 points from /u);
    expect(said).toMatch(
      /Outside\. 2 points are outside the area of use of EPSG:2055, which the file is said to be in, the farthest by \d+ km \((?:P1|P2)\): is it their zone\?/u,
    );
    expect(cellsOfTable(wrongZone.html, 'Points.').map((row) => row.at(-1))).toEqual([
      'coordinate-outside-area',
      'coordinate-outside-area',
    ]);
    expect(textOf(toUtm.html)).not.toContain('Outside.');
  });

  it('lays places without a plane out about their middle', () => {
    expect(geographic.html).toContain('laid out east and north of the middle');
    expect(ground.html).toContain('grows to the left (west)');
    // A hundredth of a degree of latitude is 1113 m there, and half of it lies north of the middle.
    expect(geocentric.html).toContain('laid out east and north of the middle');
    expect(cellsOfTable(geocentric.html, 'Points.')).toHaveLength(2);
  });

  it.each([
    ['onto a site', () => onSite],
    ['with rows refused', () => refused],
    ['to degrees', () => geographic],
  ])('is valid HTML: %s', async (_, run) => {
    expect(await htmlFaults(run().html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, onSite.path, EVERY_LOOK);
        await expectGoodPrint(browser, onSite.path, onSite.html);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});

function textOf(html: string): string {
  return html
    .replaceAll(/<style>[\s\S]*?<\/style>/gu, '')
    .replaceAll(/<[^>]*>/gu, '')
    .replaceAll(/\s+/gu, ' ');
}
