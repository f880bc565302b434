import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Browser } from 'playwright-core';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { HOSTILE_NAMES, asShown } from '../../support/hostile-names.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, SOME_LOOKS, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport, writeFixes } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable, plainText } from '../../support/table-cells.js';

const DAY = ['reduce-points', 'examples/quillback-pan/fixes.csv', '--session', 'examples/quillback-pan/session.toml'];
const folder = folderWithExamples();
let day: ReportRun;
let combined: ReportRun;
let many: ReportRun;
/** Enough that the plan is thinned, few enough for the validator. */
let crowd: ReportRun;
let hostile: ReportRun;

beforeAll(async () => {
  day = await runWithReport(folder, DAY, 'day');
  combined = await runWithReport(folder, [...DAY, '--combine'], 'combined');
  writeFixes(
    folder,
    'many.csv',
    Array.from({ length: 2000 }, (_, index) => `MP-${String(index + 1)}`),
  );
  writeFixes(folder, 'hostile.csv', HOSTILE_NAMES);
  writeFileSync(
    join(folder, 'examples', 'quillback-pan', 'loose.toml'),
    `version = 1
title = "</h1><script>x</script> \u202E a title"
[system]
grid = "EPSG:2049"
[rover]
reference_point = "tip"
[acceptance]
min_satellites = 6
[[base]]
id = "B1"
broadcast = { latitude_deg = -31.5, longitude_deg = 21.4, ellipsoidal_height_m = 1044.5, at = "arp" }
`,
  );
  const loose = ['--session', 'examples/quillback-pan/loose.toml'];
  writeFixes(
    folder,
    'crowd.csv',
    Array.from({ length: 300 }, (_, index) => `CP-${String(index + 1)}`),
  );
  crowd = await runWithReport(folder, ['reduce-points', 'crowd.csv', ...loose], 'crowd');
  many = await runWithReport(folder, ['reduce-points', 'many.csv', ...loose], 'many');
  hostile = await runWithReport(folder, ['reduce-points', 'hostile.csv', ...loose], 'hostile');
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A cell has the value of the data file, with the fewest decimals whose last is a tenth of the uncertainty or less. */
function expectShown(cell: string | undefined, written: string, uncertaintyM: number): void {
  if (written === '') {
    expect(cell).toBe('–');
    return;
  }
  const decimals = [0, 1, 2, 3].find((count) => 10 ** -count <= uncertaintyM / 10 + 1e-12) ?? 4;
  expect(cell?.split('.')[1]?.length ?? 0).toBe(decimals);
  expect(Math.abs(Number(cell?.replace('\u2212', '-')) - Number(written))).toBeLessThan(0.5 * 10 ** -decimals + 1e-9);
}

describe('the page of a reduction', () => {
  it('draws baselines while they are few, then those of points for review, and of a sheaf none', async () => {
    const raysIn = (html: string): number => {
      const plan = /<svg[^>]*aria-labelledby="plan-t[\s\S]*?<\/svg>/.exec(html)?.[0] ?? '';
      // The arrow of true north is drawn as thin, in a place of its own.
      const [rays = ''] = /(?<=<path class="ray" d=")[^"]*(?="\/>)/.exec(plan) ?? [];
      return rays.split('M').length - 1;
    };
    const doubted = day.rows.filter((row) => row['verdict'] === 'review');
    expect(raysIn(day.html)).toBe(doubted.flatMap((row) => (row['base_id'] ?? '').split('+')).length);
    expect(day.html).toContain('Thin lines: baselines of points for review.');
    // A tolerance that nothing keeps: every point is for review.
    const example = join(folder, 'examples/quillback-pan');
    const session = readFileSync(join(example, 'session.toml'), 'utf8');
    const strict = session.replace(/^horizontal_m = 0\.05$/m, 'horizontal_m = 0.0001');
    expect(strict).not.toBe(session);
    writeFileSync(join(example, 'strict.toml'), strict);
    const fixes = 'examples/quillback-pan/fixes.csv';
    const own = ['--session', 'examples/quillback-pan/strict.toml'];
    const all = await runWithReport(folder, ['reduce-points', fixes, ...own], 'strict');
    expect(all.rows.filter((row) => row['verdict'] === 'review').length).toBeGreaterThan(24);
    expect(raysIn(all.html)).toBe(0);
    expect(all.html).toContain('Baselines are so many that none is drawn.');
    expect(all.html).not.toContain('Thin lines: baselines of points');
    const ids = Array.from({ length: 8 }, (_, index) => `FP-${String(index + 1)}`);
    writeFixes(folder, 'few.csv', ids);
    const few = await runWithReport(
      folder,
      ['reduce-points', 'few.csv', '--session', 'examples/quillback-pan/loose.toml'],
      'few',
    );
    expect(few.rows.map((row) => row['base_id'])).toEqual(ids.map(() => 'B1'));
    expect(raysIn(few.html)).toBe(ids.length);
    expect(few.html).toContain('Thin lines: baselines.');
  });

  it('names on its first screen what was rejected and what is for review, once each, and the bases that were used', async () => {
    const head = (html: string): string => plainText(/<div class="verdict">([\s\S]*?)<\/div>/.exec(html)?.[1] ?? '');
    const namesOf = (verdict: string): readonly string[] => [
      ...new Set(day.rows.flatMap((row) => (row['verdict'] === verdict ? [row['point_id'] ?? ''] : []))),
    ];
    expect(namesOf('rejected')).toEqual(['QP-21', 'QP-22', 'QP-23']);
    expect(head(day.html)).toContain(`Rejected: ${namesOf('rejected').join(', ')}.`);
    expect(namesOf('review').length).toBeLessThanOrEqual(6);
    expect(head(day.html)).toContain(`For review: ${namesOf('review').join(', ')}.`);
    expect(head(day.html)).toContain('from bases B1, B2.');
    const [names = '', ...lines] = readFileSync(join(folder, 'examples/quillback-pan/fixes.csv'), 'utf8').split('\n');
    writeFileSync(
      join(folder, 'one-base.csv'),
      `${[names, ...lines.filter((line) => line.includes(',B1,'))].join('\n')}\n`,
    );
    const session = ['--session', 'examples/quillback-pan/session.toml'];
    const one = await runWithReport(folder, ['reduce-points', 'one-base.csv', ...session], 'one-base');
    expect(head(one.html)).toContain('from base B1.');
  });

  it('shows the numbers of the data file, row by row', () => {
    for (const run of [day, combined]) {
      const rows = cellsOfTable(run.html, 'Points.');
      expect(rows).toHaveLength(run.rows.length);
      for (const row of run.rows) {
        const cells = rows.find(([id, occupation]) => id === row['point_id'] && occupation === row['occupation']) ?? [];
        expect([cells[0], cells[1], cells[2], cells[6]]).toEqual([
          row['point_id'],
          row['occupation'],
          row['verdict'],
          row['base_id'],
        ]);
        for (const [place, name, uncertainty] of [
          [3, 'westing_m', 'circle_95_m'],
          [4, 'southing_m', 'circle_95_m'],
          [5, 'orthometric_height_m', 'vertical_95_m'],
        ] as const)
          expectShown(cells[place], row[name] ?? '', Number(row[uncertainty]));
        // One of 95 % in plan and height, as what was rejected has neither.
        const [circle = '', vertical = circle] = cells[8]?.split(' / ') ?? [];
        expectShown(circle, row['circle_95_m'] ?? '', Number(row['circle_95_m']));
        expectShown(vertical, row['vertical_95_m'] ?? '', Number(row['vertical_95_m']));
        expect(cells[9]).toBe(`${row['epochs_used'] ?? ''} / ${row['epochs_rejected'] ?? ''}`);
        expect(cells[10]?.replaceAll(', ', ';')).toBe(row['reasons']);
        if (row['baseline_m'] !== '')
          expect(Math.abs(Number(cells[7]) - Number(row['baseline_m']) / 1000)).toBeLessThan(0.000_501);
      }
    }
  });

  it('counts in its verdict what the data file holds', () => {
    const count = (verdict: string): number => day.rows.filter((row) => row['verdict'] === verdict).length;
    expect(day.html).toContain(
      `${String(new Set(day.rows.map((row) => row['point_id'])).size)} points in ${String(day.rows.length)} occupations: ${String(count('accepted'))} accepted, ${String(count('review'))} for review, ${String(count('rejected'))} rejected.`,
    );
    const largest = day.rows.map((row) => row['circle_95_m'] ?? '').sort((a, b) => Number(b) - Number(a))[0] ?? '';
    // As the table below has it.
    expect(day.html).toContain(`In plan ${Number(largest).toFixed(3)} m`);
  });

  it('says why each point is rejected, before why others are for review', () => {
    const opening = plainText(/<div class="verdict">([\s\S]*?)<\/div>/u.exec(day.html)?.[1] ?? '');
    const why = opening.slice(opening.indexOf('Why.'), opening.indexOf('Next.'));
    const rejected = day.rows.filter((row) => row['verdict'] === 'rejected').map((row) => row['point_id'] ?? '');
    expect(rejected).toHaveLength(3);
    const places = rejected.map((id) => why.indexOf(`${id}: `));
    expect(places.every((place) => place >= 0)).toBe(true);
    expect(Math.max(...places)).toBeLessThan(why.indexOf('For review: '));
    // Planted: a point that was never fixed, one of six epochs, and an antenna that moved (README of the example).
    expect(why).toMatch(
      /QP-21: no epoch was accepted, as the solution .*QP-22: fewer accepted epochs .*QP-23: .*moved/u,
    );
    // No action that another holds.
    const actions =
      opening
        .slice(opening.indexOf('Next.') + 6)
        .split('.')[0]
        ?.split('; ') ?? [];
    expect(actions.map((one) => one.toLowerCase())).not.toContain('reobserve');
  });

  it('says what was not done', () => {
    expect(day.html).toMatch(/\d+ points were occupied more than once: 2 disagree\./);
    expect(combined.html).not.toContain('were occupied more than once: 2 disagree.');
    expect(day.html).toContain('Nothing was held against control');
    expect(many.html).toContain('No orthometric heights');
  });

  it('states frame, unit, north, scale and exaggeration with its plan', () => {
    for (const words of [
      'EPSG:2049',
      'EPSG:4148',
      'Y, westing, km, grows to the left (west)',
      'X, southing, km, grows downwards (south)',
      'of ground',
      'times too large',
      'north is grid north',
    ]) {
      expect(day.html).toContain(words);
    }
  });

  it('draws westing to the left and southing downwards', () => {
    const places = new Map(
      [...day.html.matchAll(/<text x="([\d.]+)" y="([\d.]+)" class="[^"]*halo">(QP-\d+|B\d)<\/text>/g)].map(
        ([, x, y, name]) => [name, { x: Number(x), y: Number(y) }],
      ),
    );
    const west = places.get('QP-17');
    const east = places.get('QP-10');
    expect(west !== undefined && east !== undefined && west.x < east.x && west.y > east.y).toBe(true);
  });

  it('divides the bars of joined occupations into their parts, as those of any other', () => {
    const parts = combined.html.slice(
      combined.html.indexOf('id="parts-t"'),
      combined.html.indexOf('</svg>', combined.html.indexOf('id="parts-t"')),
    );
    const LETTERS: Readonly<Record<string, string>> = { 'slow, constant': 'b', base: 'e', 'geoid (heights)': 'f' };
    const rows = [
      ...parts.matchAll(
        />[^<]+ (@\d|\(\d joined\))<\/text>((?:<rect class="tint"[^>]*>|<text[^>]*class="m l[^>]*>[^<]*<\/text>)*)/g,
      ),
    ].map(([, occupation, bars]) => ({
      isJoined: occupation?.includes('joined') ?? false,
      kinds: new Set([...(bars ?? '').matchAll(/>([^<]*)<\/text>/g)].map(([, kind = '']) => LETTERS[kind] ?? kind)),
    }));
    const joined = rows.filter(({ isJoined }) => isJoined);
    // A part with room has its words in the bar.
    expect(parts).toMatch(/<text[^>]*class="m l[^>]*>(?:base|fast noise|geoid \(heights\)|slow, constant)</u);
    expect(joined.length).toBeGreaterThan(5);
    for (const { kinds } of joined)
      // Slow, constant; base; geoid: the parts that every joined occupation of this day has room for.
      for (const kind of ['b', 'e', 'f']) expect(kinds.has(kind), kind).toBe(true);
    expect(parts.includes('fill="none"')).toBe(false);
  });

  // Meridian convergence of the ellipsoid's transverse Mercator, first term (Snyder, Map Projections, 1987, eq. 8-10):
  // (lon - lon0) sin(lat); east of the meridian of 21° E, south of the equator, true north lies to the right.
  it('says where true north lies beside grid north', () => {
    const turns = day.rows
      .filter((row) => (row['latitude_deg'] ?? '') !== '')
      .map((row) => -(Number(row['longitude_deg']) - 21) * Math.sin((Number(row['latitude_deg']) * Math.PI) / 180))
      .sort((a, b) => a - b);
    const middle = turns[Math.floor(turns.length / 2)] ?? NaN;
    const [, size = '', side = ''] = /true north \(thin\) lies ([\d.]+)° to its (right|left)/u.exec(day.html) ?? [];
    expect(Math.abs((side === 'right' ? 1 : -1) * Number(size) - middle)).toBeLessThan(0.02);
  });

  it('is the same bytes every time', async () => {
    const again = await runWithReport(folder, DAY, 'day');
    expect(again.html).toBe(day.html);
  });

  it('stays under two megabytes for two thousand points, and says what it thinned out', () => {
    expect(Buffer.byteLength(many.html)).toBeLessThan(2_000_000);
    expect(cellsOfTable(many.html, 'Points.')).toHaveLength(2000);
    expect(many.html).toMatch(/Of \d+ accepted \d+ are drawn, spread over the plan/);
    expect(many.html).toMatch(/40 of 2000 are shown/);
    expect(many.html).toMatch(/The 24 largest of 2000 are drawn/);
  });

  it('keeps hostile names text', () => {
    expect(hostile.html).not.toMatch(/<(?:script|img|b>bold)/);
    expect(hostile.html).not.toMatch(/[\u202A-\u202E\u2066-\u2069]/);
    expect(hostile.html).toContain('a[U+202E]evil[U+2069][U+202D]');
    expect(hostile.html).toContain('<bdi>שלום עולם</bdi>');
    expect(hostile.html).toContain('x'.repeat(195));
    expect(cellsOfTable(hostile.html, 'Points.').map((cells) => cells[0])).toEqual(HOSTILE_NAMES.map(asShown));
  });

  it.each(['day', 'combined', 'crowd', 'hostile'] as const)('is valid HTML: %s', async (name) => {
    expect(await htmlFaults({ day, combined, crowd, hostile }[name].html)).toEqual([]);
  });

  it('fetches nothing and runs nothing by its own words', () => {
    for (const { html } of [day, hostile]) {
      expect(/<(?:script|link|iframe|object|embed|img)|<[^>]*\s(?:on[a-z]+|src)=|@import/.exec(html)).toBeNull();
      expect(html.includes("default-src 'none'")).toBe(true);
    }
  });
});

describe.skipIf(!hasBrowser)('the page of a reduction in a browser', () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await openBrowser();
  }, 60_000);
  afterAll(async () => {
    await browser.close();
  });

  it.each(['day', 'combined', 'hostile'] as const)(
    '%s: quiet, alone, no overflow, accessible, no word cut or covered',
    async (name) => {
      await expectGoodLooks(browser, { day, combined, hostile }[name].path, name === 'day' ? EVERY_LOOK : SOME_LOOKS);
    },
    240_000,
  );

  it.each(['day', 'combined', 'hostile'] as const)(
    'prints %s on A4 with every row whole on one sheet',
    async (name) => {
      const { path, html } = { day, combined, hostile }[name];
      // Names that fill lines leave little to put on the rest of a sheet.
      await expectGoodPrint(browser, path, html, undefined, name === 'hostile' ? 0.5 : undefined);
    },
    120_000,
  );
});
