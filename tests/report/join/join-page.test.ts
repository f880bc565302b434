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
const POINTS = ['examples/quillback-pan-site/points.csv', '--system', 'EPSG:2049'];
let lines: ReportRun;
let polar: ReportRun;
let area: ReportRun;
let flat: ReportRun;

beforeAll(async () => {
  const run = (words: readonly string[], name: string): Promise<ReportRun> =>
    runWithReport(folder, ['join-points', ...words], name);
  lines = await run([...POINTS, '--from', 'QS-1'], 'lines');
  polar = await run([...POINTS, '--polar', 'examples/quillback-pan-site/polar.csv'], 'polar');
  area = await run([...POINTS, '--area', 'QS-1,QS-2,QS-3,QS-4'], 'area');
  writeFileSync(
    join(folder, 'flat.csv'),
    'point_id,westing_m,southing_m,ellipsoidal_height_m\nA,-32000,3481000,1000\nB,-32100,3481000,\nC,-32100,3481100,1010\nD,-32100,3481100,1010\n',
  );
  flat = await run(['flat.csv', '--system', 'EPSG:2049', '--consecutive'], 'flat');
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** A cell as a page writes it: an identifier as it is, a number with a true minus sign. */
const dash = (text: string): string => (text === '' ? '–' : text.replace(/^-(?=\d)/u, '\u2212'));
const textOf = (html: string): string =>
  html
    .replaceAll(/<style>[\s\S]*?<\/style>/gu, '')
    .replaceAll(/<[^>]*>/gu, '')
    .replaceAll(/\s+/gu, ' ');

describe('the page of joined points', () => {
  it('shows every number of every line as the data file has it, in three tables', () => {
    const tables = ['Distances and heights.', 'Directions.', 'Corrections and factors.'].map((caption) =>
      cellsOfTable(lines.html, caption),
    );
    for (const [index, { from_id: from = '', to_id: to = '', ...numbers }] of lines.rows.entries()) {
      const shown = tables.map((rows) => rows[index] ?? []);
      for (const cells of shown) expect(cells.slice(0, 2)).toEqual([from, to]);
      expect(shown.flatMap((cells) => cells.slice(2)).sort()).toEqual(Object.values(numbers).map(dash).sort());
    }
    expect(tables.map((rows) => rows.length)).toEqual(tables.map(() => lines.rows.length));
    const [first] = tables.map((rows) => rows[0] ?? []);
    expect(first?.slice(2, 5)).toEqual(
      ['grid_distance_m', 'ellipsoidal_distance_m', 'ground_distance_m'].map((name) => lines.rows[0]?.[name]),
    );
  });

  it.each([
    ['polar points', 'Points set out.', () => polar],
    ['areas', 'Areas of closed figures.', () => area],
  ])('shows every number of the data file: %s', (_, caption, run) => {
    const { html, rows } = run();
    const byId = (one: readonly string[][]): readonly string[][] =>
      [...one].sort(([a = ''], [b = '']) => (a < b ? -1 : 1));
    // Areas stand in two tables, as one is too wide to read.
    const beside = cellsOfTable(html, 'Boundaries and heights.');
    expect(byId(cellsOfTable(html, caption).map((row, index) => [...row, ...(beside[index] ?? []).slice(1)]))).toEqual(
      byId(rows.map((row) => Object.values(row).map(dash))),
    );
  });

  it('says how far grid and ground differ, by the line where they differ most', () => {
    const share = (row: Readonly<Record<string, string>>): number =>
      Math.abs(Number(row['ground_distance_m']) / Number(row['grid_distance_m']) - 1);
    const most = [...lines.rows].sort((a, b) => share(b) - share(a))[0] ?? {};
    const differenceM = Number(most['ground_distance_m']) - Number(most['grid_distance_m']);
    const said = textOf(lines.html);
    const rounded = (name: string): string => Number(most[name]).toFixed(3);
    expect(said).toContain(
      `from ${most['from_id'] ?? ''} to ${most['to_id'] ?? ''}: ${rounded('ground_distance_m')} m on the ground are ${rounded('grid_distance_m')} m on the grid`,
    );
    const [, shownMm = '', shownPpm = ''] = /grid, ([\d.]+) mm less \(([\d.]+) ppm\)/u.exec(said) ?? [];
    // Distances are written to a tenth of a millimetre, which is 0.04 ppm of three kilometres.
    expect(Math.abs(Number(shownMm) - 1000 * differenceM)).toBeLessThan(0.2);
    expect(Math.abs(Number(shownPpm) - 1e6 * share(most))).toBeLessThan(0.05);
    expect(said).toContain('Set out and compare tapes and total stations with ground distances');
  });

  it('puts lines without a ground distance first, and says what they lack', () => {
    expect(cellsOfTable(flat.html, 'Distances and heights.').map((row) => row.slice(0, 2))).toEqual([
      ['A', 'B'],
      ['B', 'C'],
      ['C', 'D'],
    ]);
    const said = textOf(flat.html);
    // By name, as no one looks for a line by a count.
    expect(said).toContain('On the ground nothing was computed of A to B, B to C: a height is not known.');
    expect(said).toContain('Look at the lines whose ends are one place');
    expect(said).toContain('Dotted: without a distance on the ground.');
  });

  it('draws of many lines the longest whole, as short ends would be stray dashes', async () => {
    const places = Array.from({ length: 81 }, (_, index) => [index, (index * 37) % 80, index * index] as const);
    writeFileSync(
      join(folder, 'many.csv'),
      `point_id,westing_m,southing_m,ellipsoidal_height_m\n${places.map(([i, e, n]) => `M${String(i)},${String(-32000 - 10 * e)},${String(3481000 + n)},1000`).join('\n')}\n`,
    );
    const words = ['many.csv', '--system', 'EPSG:2049', '--consecutive'];
    const { html } = await runWithReport(folder, ['join-points', ...words], 'many');
    const drawn = /<path class="ray" d="([^"]+)"/u.exec(html)?.[1] ?? '';
    const lengths = drawn
      .split('M')
      .slice(1)
      .map((one) => {
        const [a = [], b = []] = one.split('L').map((pair) => pair.split(' ').map(Number));
        return Math.hypot((a[0] ?? NaN) - (b[0] ?? NaN), (a[1] ?? NaN) - (b[1] ?? NaN));
      });
    expect(lengths).toHaveLength(60);
    expect(textOf(html)).toContain('60 of 80 lines are drawn, the longest.');
    expect(html).not.toContain('only the two ends');
    // None of those that are left out is longer: the lengths on the ground, by the scale of the drawing.
    const all = places
      .slice(1)
      .map(([, e, n], i) => Math.hypot(10 * (e - (places[i]?.[1] ?? NaN)), n - (places[i]?.[2] ?? NaN)));
    const [longest = NaN] = all.toSorted((a, b) => b - a);
    const scale = Math.max(...lengths) / longest;
    const left = all.toSorted((a, b) => b - a)[59] ?? NaN;
    expect(Math.min(...lengths) / scale).toBeGreaterThan(left - 3);
  });

  it('says what each column is', () => {
    const columns = cellsOfTable(lines.html, 'Columns of the data file.').map(([name]) => name);
    expect(columns).toEqual(Object.keys(lines.rows[0] ?? {}));
  });

  it('warns of polar points without a check, and of an area whose corners nothing checks', () => {
    expect(textOf(polar.html)).toContain('a polar point has no check of its own');
    expect(textOf(area.html)).toContain('an area checks no corner');
  });

  it.each([
    ['lines', () => lines],
    ['polar points', () => polar],
    ['areas', () => area],
    ['without heights', () => flat],
  ])('is valid HTML: %s', async (_, run) => {
    expect(await htmlFaults(run().html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, lines.path, EVERY_LOOK);
        await expectGoodPrint(browser, lines.path, lines.html);
        await expectGoodLooks(browser, area.path, EVERY_LOOK);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});
