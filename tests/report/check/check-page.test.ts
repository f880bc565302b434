import { cpSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser, hasBrowser } from '../../support/browser.js';
import { readDrawing } from '../../support/drawing-axes.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { ROOT } from '../../support/repository-files.js';
import { cellsOfTable } from '../../support/table-cells.js';

const folder = folderWithExamples();
let day: ReportRun;

beforeAll(async () => {
  const files = [
    'examples/quillback-pan-check/points.csv',
    '--session',
    'examples/quillback-pan/session.toml',
    '--control',
    'examples/quillback-pan/control.csv',
  ];
  day = await runWithReport(
    folder,
    ['check-tolerances', ...files, '--repeats', '--limit-horizontal', '0.05', '--limit-vertical', '0.1'],
    'check',
  );
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of a check', () => {
  it('shows the differences of the data file, row by row', () => {
    const rows = cellsOfTable(day.html, 'Comparisons.');
    expect(rows).toHaveLength(day.rows.length);
    // Reasons are said once, below, and by their numbers in a row.
    const codes = new Map(
      cellsOfTable(day.html, 'What the reasons mean.').map(([number = '', code]) => [number, code]),
    );
    for (const row of day.rows) {
      const shown = (name: string): string => (row[name] === '' ? '–' : (row[name] ?? '').replace('-', '\u2212'));
      // What fails stands first: a row is found by what it compares.
      const names = [
        row['point_id'],
        row['occupation'],
        row['check'] === 'base-pair' ? 'two bases' : row['check'],
        row['against'],
      ];
      const cells = rows.find((own) => [own[0], own[1], own[2], own[4]].join('|') === names.join('|')) ?? [];
      expect([cells[5], cells[6], cells[7]]).toEqual(
        ['difference_westing_m', 'difference_southing_m', 'difference_height_m'].map(shown),
      );
      expect(cells[8]).toBe(`${shown('horizontal_limit_m')} / ${shown('vertical_limit_m')}`);
      const reasons = (cells[10] ?? '').split(', ').filter((number) => number !== '');
      expect(reasons.every((number) => codes.has(number))).toBe(true);
      // By their numbers, which are looked up below.
      expect(reasons).toEqual(reasons.toSorted((a, b) => Number(a) - Number(b)));
      expect([cells[3], reasons.map((number) => codes.get(number)).sort()]).toEqual([
        row['verdict'],
        (row['reasons'] ?? '').split(';').filter(Boolean).sort(),
      ]);
    }
  });

  it('draws no base from which nothing was measured, so that it shrinks no map', async () => {
    const near = 'examples/quillback-pan-check/near.csv';
    const [head = '', ...lines] = readFileSync(join(folder, 'examples/quillback-pan-check/points.csv'), 'utf8').split(
      '\n',
    );
    writeFileSync(join(folder, near), `${[head, ...lines.filter((line) => line.includes(',B1,'))].join('\n')}\n`);
    const control = ['--control', 'examples/quillback-pan/control.csv', '--limit-horizontal', '0.05'];
    const session = ['--session', 'examples/quillback-pan/session.toml'];
    const one = await runWithReport(folder, ['check-tolerances', near, ...session, ...control], 'near');
    const figure = (html: string): string =>
      /<svg[^>]*aria-labelledby="residuals-t[\s\S]*?<\/svg>/.exec(html)?.[0] ?? '';
    const basesIn = (html: string): readonly string[] =>
      [...figure(html).matchAll(/<text[^>]*>(B\d)<\/text>/g)].map(([, id]) => id ?? '');
    expect(basesIn(day.html)).toEqual(['B1', 'B2']);
    expect(basesIn(one.html)).toEqual(['B1']);
  });

  it('draws what lies to the north upwards beside westings and northings', async () => {
    const places = ['A,1000,2000', 'B,1400,2000', 'C,1000,2400', 'D,1400,2400'];
    writeFileSync(join(folder, 'west.csv'), `point_id,westing_m,northing_m\n${places.join('\n')}\n`);
    writeFileSync(
      join(folder, 'west-control.csv'),
      `point_id,westing_m,northing_m\n${places.join('\n').replace('D,1400,2400', 'D,1400.03,2399.95')}\n`,
    );
    const west = await runWithReport(
      folder,
      ['check-tolerances', 'west.csv', '--control', 'west-control.csv', '--limit-horizontal', '0.1'],
      'west-check',
    );
    const { marks, across, down } = readDrawing(west.html, 'scatter');
    const moved = marks.filter(({ x, y }) => Math.hypot(x - across(0), y - down(0)) > 1);
    expect([marks.length, moved.length]).toEqual([4, 1]);
    // Measured 30 mm east and 50 mm north of the known place; a drawing counts downwards.
    const [right = NaN, up = NaN] = moved.flatMap(({ x, y }) => [x - across(0), down(0) - y]);
    expect(right).toBeGreaterThan(0);
    expect(up / right).toBeCloseTo(5 / 3, 1);
  });

  it('states frame, unit, exaggeration and limit with its figures', () => {
    for (const words of [
      'times too long',
      'north is grid north',
      'Y, westing, km, grows to the left (west)',
      'east, mm',
      'hours between occupations',
      'distance from the base, km',
      'height above the base, m',
    ]) {
      expect(day.html.includes(words), words).toBe(true);
    }
  });

  it('names the likely cause of repeats that disagree', () => {
    expect(cellsOfTable(day.html, 'Occupations that disagree.').map((cells) => cells[0])).toEqual(['QP-03', 'QP-06']);
  });

  it('says what would make repeats disagree once, however many do, with their names', async () => {
    // Twenty pegs whose second occupation is 0.3 m off in plan and twenty whose pole was 0.2 m wrong, in turn.
    const ids = Array.from({ length: 40 }, (_, index) => `R${String(index + 1)}`);
    const rows = ids.flatMap((id, index) => {
      const [y, x] = [1000 + 50 * (index % 8), 2000 + 50 * Math.floor(index / 8)];
      const off = index % 2 === 0 ? [0.3, 0] : [0, 0.2];
      return [
        `${id},1,${String(y)},${String(x)},100,2026-03-04T06:00:00Z,2026-03-04T06:00:10Z,0.01,0.01,0.015`,
        `${id},2,${String(y + (off[0] ?? NaN))},${String(x)},${String(100 + (off[1] ?? NaN))},2026-03-04T10:00:00Z,2026-03-04T10:00:10Z,0.01,0.01,0.015`,
      ];
    });
    const place = 'point_id,occupation,easting_m,northing_m,ellipsoidal_height_m';
    const head = `${place},first_epoch_utc,last_epoch_utc,sigma_east_m,sigma_north_m,sigma_up_m`;
    writeFileSync(join(folder, 'twice.csv'), `${head}\n${rows.join('\n')}\n`);
    const limits = ['--limit-horizontal', '0.05', '--limit-vertical', '0.1'];
    const { html } = await runWithReport(folder, ['check-tolerances', 'twice.csv', '--repeats', ...limits], 'twice');
    const points = cellsOfTable(html, 'Occupations that disagree.');
    expect(points.map(([id]) => id)).toEqual(ids);
    const causes = cellsOfTable(html, 'What would do that.');
    expect(causes.map(([letter]) => letter)).toEqual(['A', 'B']);
    for (const [letter, title = '', names = '', confirm = ''] of causes) {
      const own = points.filter((cells) => cells[3] === letter).map(([id]) => id);
      expect(names).toBe(`20: ${own.slice(0, 12).join(', ')} and 8 more`);
      // The first screen names each cause, and the table says it once.
      expect(html.split(title).length - 1, title).toBe(2);
      expect(html.split(confirm).length - 1, confirm).toBe(1);
    }
    // By what was planted: off in plan, and off in height alone.
    const titleOf = (at: number): string => causes.find(([letter]) => letter === points[at]?.[3])?.[1] ?? '';
    expect([titleOf(0), titleOf(1)].map((title) => /initialisation|pole/.exec(title)?.[0])).toEqual([
      'initialisation',
      'pole',
    ]);
  });

  it('lists no cause where no single one explains, names the nearest as such, and the single occupations that stand out after it', async () => {
    cpSync(
      join(
        ROOT,
        'tests/cases/check-tolerances/a-wrong-base-is-the-nearest-cause-and-single-occupations-follow/control.csv',
      ),
      join(folder, 'moved.csv'),
    );
    const { html } = await runWithReport(
      folder,
      [
        'check-tolerances',
        'examples/quillback-pan-check/points.csv',
        '--session',
        'examples/quillback-pan/session.toml',
        '--control',
        'moved.csv',
      ],
      'nearest',
    );
    expect(cellsOfTable(html, 'Causes that explain the residuals, best first.')).toEqual([]);
    expect(html).toContain('No single cause explains the residuals.');
    expect(html).toContain('The nearest, which does not explain them: the base coordinate is wrong');
    expect(
      cellsOfTable(html, 'Single occupations that stand out').map(([name]) => name?.replace(/.*\(/u, '(')),
    ).toEqual(['(QP-03@2)', '(QP-06@2)']);
    expect(html).toContain('Together they explain the residuals.');
    expect(await htmlFaults(html)).toEqual([]);
  });

  it('marks causes that the residuals cannot tell apart', async () => {
    cpSync(
      join(ROOT, 'tests/cases/check-tolerances/a-slant-taken-as-vertical-is-a-tie-with-the-antenna-height'),
      join(folder, 'slant'),
      { recursive: true },
    );
    const { html } = await runWithReport(
      folder,
      ['check-tolerances', 'slant/points.csv', '--session', 'slant/session.toml', '--control', 'slant/control.csv'],
      'tied',
    );
    const names = cellsOfTable(html, 'Causes that explain the residuals, best first.').map(([name]) => name ?? '');
    expect(names.map((name) => name.startsWith('= '))).toEqual([true, true, true]);
    expect(names[0]).toContain('a slant height of the base antenna');
    expect(html).toContain('cannot tell apart those marked =');
  });

  it('is valid HTML', async () => {
    expect(await htmlFaults(day.html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, day.path, EVERY_LOOK);
        await expectGoodPrint(browser, day.path, day.html);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});
