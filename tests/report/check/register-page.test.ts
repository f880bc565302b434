import { rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable } from '../../support/table-cells.js';

const folder = folderWithExamples();
const DAYS = 'examples/quillback-pan-days';
let register: ReportRun;

beforeAll(async () => {
  const words = ['check-tolerances', `${DAYS}/expected-points.csv`, '--job', `${DAYS}/job.toml`, '--register'];
  register = await runWithReport(folder, words, 'register');
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('the page of a register', () => {
  it('begins with the answer and what to look at first', () => {
    const opening = /<div class="verdict">([\s\S]*?)<\/div>/.exec(register.html)?.[1] ?? '';
    expect(opening).toContain('Not within.');
    expect(opening.replaceAll(/<[^>]*>/g, '')).toContain(
      // The step of the westings is of -43.5 mm: on this grid they grow to the west.
      'Look first at C3: 74.0 mm lower and 43.5 mm farther east from 2026-05-15 on.',
    );
    expect(opening.split('2026-05-11')).toHaveLength(2);
    expect(register.exit).toBe(1);
  });

  it('shows the rows of the data file', () => {
    const shown = cellsOfTable(register.html, 'Register.');
    expect(shown).toHaveLength(register.rows.length);
    for (const [index, row] of register.rows.entries()) {
      const cells = shown[index] ?? [];
      const name = row['what'] === 'base' ? `base ${row['point_id'] ?? ''}` : row['point_id'];
      expect([cells[0], cells[1], cells[2], cells[3], cells[11]]).toEqual([
        name,
        row['axis'],
        row['verdict'],
        row['set_ups'],
        row['reasons']?.replaceAll(';', ', '),
      ]);
      const mean = Number((cells[4] ?? '').replace('\u2212', '-'));
      expect(Math.abs(mean - 1000 * Number(row['mean_m']))).toBeLessThan(0.11);
      expect(cells[9]).toBe(row['moved_from_day'] === '' ? '–' : row['moved_from_day']);
    }
  });

  it('draws every mark and base, those that moved first, and says what the lines are', () => {
    const figures = [...register.html.matchAll(/<b>Figure \d+\.<\/b> ([\s\S]*?)<\/figcaption>/g)].map(
      ([, caption]) => caption?.replaceAll(/<[^>]*>/g, '') ?? '',
    );
    expect(figures).toHaveLength(5);
    expect(figures[0]).toContain('C3: residuals');
    // The base holds C3, whose 74 mm are some 18 of the mean of four marks: what stands still is not to look as if it moved.
    expect(figures.find((caption) => caption.startsWith('base B1'))).toContain(
      'Its mean holds C3, which moved: a step at the left is its share of the mean, and no movement of the base.',
    );
    expect(figures.filter((caption) => caption.includes('Its mean holds'))).toHaveLength(1);
    expect(figures.every((caption) => caption.includes('EPSG:2049') && caption.includes('limit 5 dashed'))).toBe(true);
  });

  it('draws a sign for each set-up of the data, a cross where a mark no longer is where the control has it', () => {
    const signs = register.rows.reduce((sum, row) => sum + Number(row['set_ups']), 0);
    expect(register.html.split('<use href="#register-').length - 1).toBe(signs);
    // Both findings of the example are of four set-ups.
    const after = [...register.html.matchAll(/(?:lower|farther east) from [\s\S]{0,60}? on, (\d+) set-ups/g)].map(
      ([, count]) => Number(count),
    );
    expect(after).toEqual([4, 4]);
    expect(register.html.split('-bad-times-40" x=').length - 1).toBe(8);
  });

  it('has the date of a step above the frame, where no set-up stands', async () => {
    // Thirty set-ups of the invented month stand close.
    const job = ['--job', 'examples/quillback-pan-month/job.toml'];
    await runWithReport(folder, ['reduce-points', ...job], 'month');
    const month = await runWithReport(folder, ['check-tolerances', 'month-out.csv', ...job, '--register'], 'months');
    const drawings = `${register.html}${month.html}`.split('<svg ').slice(1);
    const dated = drawings.flatMap((drawing) => {
      const signs = [...drawing.matchAll(/<use href="[^"]*" x="([^"]*)" y="([^"]*)"/gu)];
      return [...drawing.matchAll(/<text x="([^"]*)" y="([^"]*)"[^>]*>\d{4}-\d{2}-\d{2}</gu)].map(([, x, y]) => ({
        x: Number(x),
        // Signs over which the date is written: it is some 62 wide and 10 high.
        on: signs.filter(
          ([, at, down]) =>
            Math.abs(Number(at) - Number(x)) < 35 && Number(down) < Number(y) + 4 && Number(down) > Number(y) - 12,
        ).length,
      }));
    });
    // As many dates as rows of the data that moved.
    expect(dated).toHaveLength([...register.rows, ...month.rows].filter((row) => row['moved_from_day'] !== '').length);
    expect(dated.map(({ on }) => on)).toEqual(dated.map(() => 0));
    expect(dated.every(({ x }) => x > 80 && x < 330)).toBe(true);
  }, 60_000);

  it('is valid HTML', async () => {
    expect(await htmlFaults(register.html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, register.path, EVERY_LOOK);
        await expectGoodPrint(browser, register.path, register.html);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});
