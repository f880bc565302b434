import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { hasBrowser, openBrowser } from '../../support/browser.js';
import { htmlFaults } from '../../support/html-faults.js';
import { EVERY_LOOK, expectGoodLooks, expectGoodPrint } from '../../support/page-looks.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';
import { cellsOfTable } from '../../support/table-cells.js';

const folder = folderWithExamples();
const POINTS = 'examples/quillback-pan-site/points.csv';
const CONTROL = 'examples/quillback-pan-site/control.csv';
let site: ReportRun;

beforeAll(async () => {
  const files = [POINTS, '--control', CONTROL];
  site = await runWithReport(
    folder,
    ['fit-site', ...files, '--system', 'EPSG:2049', '--site-axes', 'easting_m,northing_m'],
    'site',
  );
});

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

/** Lines of the plan of residuals, as they are drawn, without those of its axes: ticks come in the order of their numbers. */
function residualPaths(html: string): readonly string[] {
  const from = html.indexOf('id="residuals-t"');
  const drawing = html.slice(from, html.indexOf('</svg>', from));
  return Array.from(drawing.matchAll(/ d="([^"]+)"/gu), ([, path = '']) => path).slice(1);
}

describe('the page of a site fit', () => {
  it.each([
    ['Fitted.', 'fit', 'left_out'],
    ['Kept out to check.', 'check', 'sigma'],
  ])('shows the residuals of the data file: %s', (caption, role, third) => {
    const own = site.rows.filter((row) => row['role'] === role);
    const rows = cellsOfTable(site.html, caption);
    expect(rows).toHaveLength(own.length);
    for (const row of own) {
      const shown = (name: string): string => (row[name] === '' ? '–' : (row[name] ?? '').replace('-', '\u2212'));
      const cells = rows.find(([id]) => id === row['point_id']) ?? [];
      expect(cells[1]).toBe(row['verdict']);
      expect([cells[2], cells[3], cells[4]]).toEqual(
        ['residual_east_m', 'residual_north_m', 'residual_height_m'].map(shown),
      );
      expect(cells[5]).toBe(['east', 'north', 'height'].map((axis) => shown(`${third}_${axis}_m`)).join(' / '));
    }
  });

  it('shows leverage as one minus redundancy', () => {
    const own = site.rows.filter((row) => row['role'] === 'fit');
    for (const [index, cells] of cellsOfTable(site.html, 'Leverage and what can be seen.').entries()) {
      const [east = ''] = (cells[1] ?? '').split(' / ');
      expect(Math.abs(Number(east) - (1 - Number(own[index]?.['redundancy_east'])))).toBeLessThan(0.0011);
    }
  });

  it('states frame, unit, exaggeration and hull with its figures', () => {
    for (const words of [
      'times too long',
      'north is the north of the site',
      'E, easting, km, grows to the right (east)',
      'hull of the control',
      'one sigma, mm',
      'from the middle of the control, km',
    ]) {
      expect(site.html.includes(words), words).toBe(true);
    }
  });

  it('draws the arrows of westings and northings where those of eastings and northings are', async () => {
    const [header = '', ...lines] = readFileSync(join(folder, CONTROL), 'utf8').trim().split('\n');
    const column = header.split(',').indexOf('easting_m');
    const west = lines.map((line) =>
      line
        .split(',')
        .map((cell, at) => (at === column ? String(0 - Number(cell)) : cell))
        .join(','),
    );
    writeFileSync(
      join(folder, 'west-control.csv'),
      `${[header.replace('easting_m', 'westing_m'), ...west].join('\n')}\n`,
    );
    const turned = await runWithReport(
      folder,
      [
        'fit-site',
        POINTS,
        '--control',
        'west-control.csv',
        '--system',
        'EPSG:2049',
        '--site-axes',
        'westing_m,northing_m',
      ],
      'west',
    );
    const paths = residualPaths(turned.html);
    expect(paths.length).toBeGreaterThan(3);
    expect(paths).toEqual(residualPaths(site.html));
  });

  it('names each point that was kept out and is off, with its axis and how far, before what to do next', async () => {
    const [header = '', ...lines] = readFileSync(join(folder, CONTROL), 'utf8').trim().split('\n');
    const column = header.split(',').indexOf('orthometric_height_m');
    const raises = new Map([
      ['QS-7,', 0.2],
      ['QS-8,', 0.25],
    ]);
    const raised = lines.map((line) =>
      line
        .split(',')
        .map((cell, at) => (at === column ? String(Number(cell) + (raises.get(line.slice(0, 5)) ?? 0)) : cell))
        .join(','),
    );
    writeFileSync(join(folder, 'raised.csv'), `${[header, ...raised].join('\n')}\n`);
    const off = await runWithReport(
      folder,
      ['fit-site', POINTS, '--control', 'raised.csv', '--system', 'EPSG:2049', '--site-axes', 'easting_m,northing_m'],
      'off',
    );
    const mm = (id: string): string => {
      const row = off.rows.find((own) => own['point_id'] === id);
      expect(row?.['verdict']).toBe('no');
      // The marks were raised, so that the fit has them below.
      return (-1000 * Number(row?.['residual_height_m'])).toFixed(1);
    };
    // The farthest first, whatever its name.
    expect(off.html).toContain(
      `<b>Kept out, and off,</b> as the fit has them from their control: <bdi>QS-8</bdi> (${mm('QS-8')} mm below), <bdi>QS-7</bdi> (${mm('QS-7')} mm below).`,
    );
    expect(off.html.indexOf('<b>Next.</b>')).toBeGreaterThan(off.html.indexOf('Kept out, and off'));
  });

  it('of a surface begins with heights: how far benchmarks that are left out are off, the farthest by name', async () => {
    const heights = 'examples/quillback-pan-heights';
    const { html } = await runWithReport(
      folder,
      [
        'fit-site',
        `${heights}/points.csv`,
        '--control',
        `${heights}/benchmarks.csv`,
        '--system',
        'EPSG:2049',
        '--vertical',
        'surface',
      ],
      'heights',
    );
    const [farthest = []] = cellsOfTable(html, 'Each benchmark left out.');
    const first = html.slice(0, html.indexOf('<b>The fit.</b>'));
    expect(first).toContain(`<bdi>${farthest[0] ?? ''}</bdi>: ${farthest[1] ?? ''} mm`);
    expect(html.indexOf('id="surface"')).toBeLessThan(html.indexOf('id="residuals-section"'));
  });

  it('is valid HTML', async () => {
    expect(await htmlFaults(site.html)).toEqual([]);
  });

  it.skipIf(!hasBrowser)(
    'is quiet, alone, accessible and fits at every width, by day, by night and on paper',
    async () => {
      const browser = await openBrowser();
      try {
        await expectGoodLooks(browser, site.path, EVERY_LOOK);
        await expectGoodPrint(browser, site.path, site.html);
      } finally {
        await browser.close();
      }
    },
    240_000,
  );
});
