import { copyFileSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable, plainText } from '../../support/table-cells.js';

const folder = folderWithExamples();
const EXAMPLE = 'examples/quillback-pan-network';
let clean: ReportRun;
let foul: ReportRun;
let excluded: ReportRun;
let typed: ReportRun;
let stretched: ReportRun;

/** The example with 0.2 m put into the X of its third vector. */
function writeFoulVectors(): void {
  const lines = readFileSync(join(folder, EXAMPLE, 'vectors.csv'), 'utf8')
    .trimEnd()
    .split('\n');
  const cells = lines[3]!.split(',');
  cells[2] = (Number(cells[2]) + 0.2).toFixed(4);
  writeFileSync(join(folder, 'foul.csv'), `${[...lines.slice(0, 3), cells.join(','), ...lines.slice(4)].join('\n')}\n`);
}

beforeAll(async () => {
  writeFoulVectors();
  const words = ['--control', `${EXAMPLE}/control.csv`, '--system', 'EPSG:2049'];
  const run = (name: string, vectors: string, more: readonly string[] = []): Promise<ReportRun> =>
    runWithReport(folder, ['adjust-network', '--vectors', vectors, ...words, ...more], name);
  clean = await run('clean', `${EXAMPLE}/vectors.csv`, ['--pairs', `${EXAMPLE}/pairs.csv`]);
  foul = await run('foul', 'foul.csv', ['--observations', 'foul-observations.csv']);
  typed = await runWithReport(
    folder,
    [
      'adjust-network',
      '--vectors',
      `${EXAMPLE}/vectors-with-blunders.csv`,
      '--control',
      `${EXAMPLE}/control-typed-wrongly.csv`,
      '--exclude-outliers',
    ],
    'typed',
  );
  excluded = await run('excluded', 'foul.csv', ['--exclude-outliers']);
  for (const name of ['vectors', 'control'])
    copyFileSync(
      `tests/cases/adjust-network/a-scale-of-a-base-is-kept/${name}.csv`,
      join(folder, `stretched-${name}.csv`),
    );
  const sigmas = ['--setup-sigma-horizontal', '0.005', '--setup-sigma-vertical', '0.005'];
  stretched = await runWithReport(
    folder,
    [
      'adjust-network',
      '--vectors',
      'stretched-vectors.csv',
      '--control',
      'stretched-control.csv',
      ...sigmas,
      '--estimate',
      'scale,rotations',
    ],
    'stretched',
  );
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const shown = (cell: string | undefined, factor: number, decimals: number): string =>
  cell === undefined || cell === '' ? '–' : (factor * Number(cell)).toFixed(decimals).replace('-', '\u2212');

describe('the page of a network', () => {
  it('answers first: the state, the worst by name and axis, the whole, what is next, what was not done', () => {
    const head = (run: ReportRun): string =>
      plainText(/<div class="verdict">([\s\S]*?)<\/div>/.exec(run.html)?.[1] ?? '');
    expect(head(clean)).toMatch(
      /^\s*For review\. 7 stations, 12 observations, 3 control points\. No observation fails; nothing checks 1 station\./,
    );
    expect(head(clean)).toContain('Observe QN-7 once more');
    expect(head(foul)).toMatch(/Not within\./);
    const [from, to] = readFileSync(join(folder, 'foul.csv'), 'utf8').split('\n')[3]!.split(',');
    expect(head(foul)).toMatch(
      new RegExp(`Look first at ${from!} to ${to!}, geocentric X: \\d+\\.\\d\\d times its sigma`),
    );
    expect(head(foul)).toContain('Nothing was left out.');
    expect(head(excluded)).toMatch(/Not within\..*Observations that fail or were left out: 1;/s);
  });

  it('names the control that fails, and the direction in which it is off', () => {
    const head = plainText(/<div class="verdict">([\s\S]*?)<\/div>/.exec(typed.html)?.[1] ?? '');
    // The planted digit is 0.000005° of latitude: 0.554 m.
    expect(head).toMatch(
      /Control\. The network and the other control put QN-2 55\d\.\d mm south of where it is stated/,
    );
    expect(cellsOfTable(typed.html, 'Left out,').map(([what]) => what)).toEqual([
      'vector QN-1 to QN-4',
      'control QN-2',
    ]);
  });

  it('shows the stations of the data file, those to look at first before others', () => {
    const cells = cellsOfTable(clean.html, 'Stations.');
    expect(cells[0]?.slice(0, 3)).toEqual(['QN-7', 'review', 'unchecked']);
    for (const row of clean.rows) {
      const own = cells.find(([id]) => id === row['point_id']);
      expect([own?.[3], own?.[7]]).toEqual([shown(row['circle_95_m'], 1000, 1), shown(row['redundancy'], 1, 2)]);
      expect(own?.[2]?.startsWith('yes')).toBe(row['checked'] === 'yes');
    }
    expect(cells).toHaveLength(clean.rows.length);
  });

  it('shows every distortion that was looked for, the one that is kept first and in the answer', () => {
    const cells = cellsOfTable(stretched.html, 'Distortions looked for.');
    expect(cells).toHaveLength(16);
    // Six millimetres a kilometre are planted in the vectors of B2.
    const [first] = cells;
    expect(first?.slice(0, 2)).toEqual(['scale of base B2', 'kept']);
    expect(Math.abs(Number(first?.[2]) - 6)).toBeLessThan(3 * Number(first?.[3]));
    expect(Number(first?.[4])).toBeGreaterThan(Number(first?.[5]));
    for (const [, answer, , , test, limit] of cells.slice(1)) {
      expect(answer).toBe('not significant');
      expect(Number(test)).toBeLessThan(Number(limit));
    }
    const head = plainText(/<div class="verdict">([\s\S]*?)<\/div>/.exec(stretched.html)?.[1] ?? '');
    expect(head).toMatch(
      /Distortions\. 16 distortions looked for; kept: scale of base B2, 5\.71 ± 0\.44 mm a kilometre\./,
    );
    expect(head).toContain('Find out what makes the scale of base B2');
    expect(clean.html).not.toContain('Distortions');
  });

  it('says what was left out and why, and that nothing was', () => {
    const [row] = cellsOfTable(excluded.html, 'Left out,');
    expect(row?.[1]).toMatch(/^its test was \d+\.\d, the limit \d+\.\d/);
    expect(foul.html).toContain('Nothing was left out. Observations and control that fail stay in');
  });

  it('draws what fails, and what nothing checks, as crosses named first', () => {
    const figure = (run: ReportRun, id: string): string =>
      new RegExp(`<svg[^>]*aria-labelledby="${id}-t[\\s\\S]*?</svg>`).exec(run.html)?.[0] ?? '';
    expect(figure(clean, 'redundancy').split('class="bad"').length - 1).toBe(1);
    expect(/<text[^>]*>QN-7<\/text>/.test(figure(clean, 'redundancy'))).toBe(true);
    expect(figure(clean, 'ellipses').split('<ellipse class="blue"').length - 1).toBe(7);
    expect(figure(clean, 'ellipses').split('<ellipse class="inkline dash"').length - 1).toBe(2);
    // Three numbers of each vector that fails.
    const failing = readFileSync(join(folder, 'foul-observations.csv'), 'utf8').split('network-observation').length - 1;
    expect(failing).toBeGreaterThan(0);
    expect(figure(foul, 'residuals').split('<use href="#residuals-bad-').length - 1).toBe(3 * failing);
    expect(figure(clean, 'residuals').includes('-bad-')).toBe(false);
    // As many lines as the file has observations that fail, that nothing checks, and of the rest.
    const observations = readFileSync(join(folder, 'foul-observations.csv'), 'utf8').trimEnd().split('\n').slice(1);
    const unchecked = observations.filter((row) => row.includes('network-unchecked')).length;
    const linesOf = (classes: string): number =>
      new RegExp(`<path class="${classes}" d="([^"]*)"`, 'u').exec(figure(foul, 'ellipses'))?.[1]?.split('M').length ??
      1;
    expect(linesOf('off') - 1).toBe(failing);
    expect(linesOf('inkline dotted') - 1).toBe(unchecked);
    expect(linesOf('ray') - 1).toBe(observations.length - failing - unchecked);
  });

  it('draws control beyond its test as a cross with its name, though no observation of it fails', async () => {
    const wrong = ['--vectors', `${EXAMPLE}/vectors.csv`, '--control', `${EXAMPLE}/control-typed-wrongly.csv`];
    const { html } = await runWithReport(folder, ['adjust-network', ...wrong], 'wrong-control');
    const stationOf = (id: string): string | undefined =>
      cellsOfTable(html, 'Stations.').find(([own]) => own === id)?.[1];
    expect(stationOf('QN-2')).toBe('rejected');
    expect(cellsOfTable(html, 'Control.').flatMap(([id, verdict]) => (verdict === 'no' ? [id] : []))).toEqual(['QN-2']);
    const ellipses = /<svg[^>]*aria-labelledby="ellipses-t[\s\S]*?<\/svg>/.exec(html)?.[0] ?? '';
    expect(ellipses.split('<use href="#ellipses-bad-times').length - 1).toBe(1);
    // The other three agree, but where they stand hangs on the one that does not.
    expect(ellipses.split('<use href="#ellipses-doubt-triangle').length - 1).toBe(3);
    for (const id of ['QN-1', 'QN-3', 'QN-5']) expect(stationOf(id), id).toBe('review');
    expect(/<text[^>]*>QN-2<\/text>/.test(ellipses)).toBe(true);
  });

  it('says that verdicts and residuals come from different steps', () => {
    expect(plainText(clean.html)).toMatch(
      /The verdict and what the others say come from an earlier step, the network held by QN-\d alone before other control could bend it, and so need not agree with the residual, redundancy and w/,
    );
  });

  it('puts the residuals on the line of the normal curve where they are normal', () => {
    const figure = /<svg[^>]*aria-labelledby="residuals-t[\s\S]*?<\/svg>/.exec(clean.html)?.[0] ?? '';
    const places = [...figure.matchAll(/<use href="#residuals-mark-[^"]*" x="([\d.]+)" y="([\d.]+)"/g)].map(
      ([, x, y]) => [Number(x), Number(y)] as const,
    );
    expect(places.length).toBeGreaterThan(20);
    for (const [index, [x, y]] of places.entries()) {
      if (index === 0) continue;
      expect(x).toBeGreaterThanOrEqual(places[index - 1]![0]);
      expect(y).toBeLessThanOrEqual(places[index - 1]![1]);
    }
  });

  it.each([
    ['clean', () => clean],
    ['excluded', () => excluded],
    ['stretched', () => stretched],
  ])('is valid HTML: %s', async (_, run) => {
    expect(await htmlFaults(run().html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, clean.path, EVERY_LOOK);
        await expectGoodPrint(browser, clean.path, clean.html);
        await expectGoodLooks(browser, excluded.path, EVERY_LOOK);
        await expectGoodPrint(browser, excluded.path, excluded.html);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});
