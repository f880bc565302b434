import { copyFileSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDrawing } from '../../support/drawing-axes.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';

// The circles about the residuals of a fit, read back from the drawing by its ticks and by the factor that its caption states.
const folder = folderWithExamples();
const SITE = 'examples/quillback-pan-site';
const SYSTEM = ['--system', 'EPSG:2049', '--site-axes', 'easting_m,northing_m'];
let html: string;
let rows: readonly Readonly<Record<string, string>>[];

beforeAll(async () => {
  const words = ['fit-site', `${SITE}/points.csv`, '--control', `${SITE}/control.csv`, ...SYSTEM];
  const more = ['--residuals', 'site.csv', '--limit-horizontal', '0.05'];
  html = (await runWithReport(folder, [...words, ...more], 'page')).html;
  rows = parse(readFileSync(join(folder, 'site.csv')), { columns: true });
}, 60_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

const at = (row: Readonly<Record<string, string>>, name: string): number => Number(row[name]);

function circlesOf(
  classes: string,
  page = html,
): readonly { readonly x: number; readonly y: number; readonly r: number }[] {
  const start = page.indexOf('aria-labelledby="residuals-t');
  const drawing = page.slice(start, page.indexOf('</svg>', start));
  return [
    ...drawing.matchAll(new RegExp(`<circle class="${classes}" cx="([^"]*)" cy="([^"]*)" r="([^"]*)"`, 'gu')),
  ].map(([, x, y, r]) => ({ x: Number(x), y: Number(y), r: Number(r) }));
}

describe('the residuals of a site on the plan', () => {
  it('stand in circles of 95 % of their own sigmas', () => {
    const { across, down } = readDrawing(html, 'residuals');
    const larger = Number(/drawn (\d+) times too long/u.exec(html)?.[1]);
    const pixelsPerMetre = across(1) - across(0);
    const circles = circlesOf('spread');
    expect(circles).toHaveLength(rows.length);
    for (const row of rows) {
      // Sigmas of control and points are circular, so that those of a residual are alike in both axes: BAARDA-1968, w = v / sigma of v;
      // of a point kept out the sigma stands in its row. 2.4477: FGDC-STD-007.3-1998, appendix 3-A.
      const sigmas = ['east', 'north'].map((axis) =>
        row['role'] === 'fit' ? at(row, `residual_${axis}_m`) / at(row, `baarda_${axis}`) : at(row, `sigma_${axis}_m`),
      );
      const wanted = 2.4477 * Math.max(...sigmas);
      const end = {
        x: across(at(row, 'easting_m') + larger * at(row, 'residual_east_m')),
        y: down(at(row, 'northing_m') + larger * at(row, 'residual_north_m')),
      };
      const near = circles.filter(({ x, y }) => Math.hypot(x - end.x, y - end.y) < 1.5);
      expect(near.length, row['point_id']).toBeGreaterThan(0);
      // Residuals are written to 0.1 mm, one of some millimetres so to a few hundredths of itself.
      const closest = Math.min(...near.map(({ r }) => Math.abs(r / (larger * pixelsPerMetre) / wanted - 1)));
      expect(closest, row['point_id']).toBeLessThan(0.05);
    }
  });

  it('stand whole within the frame, with a limit and without', async () => {
    const words = ['fit-site', `${SITE}/points.csv`, '--control', `${SITE}/control.csv`, ...SYSTEM];
    const free = (await runWithReport(folder, words, 'free')).html;
    for (const page of [html, free]) expectWhole(page);
  });

  function expectWhole(page: string): void {
    const drawing = page.slice(page.indexOf('aria-labelledby="residuals-t'));
    const [, left, top, right, bottom] =
      /<path class="axis" d="M([\d.]+) ([\d.]+)H([\d.]+)V([\d.]+)/u.exec(drawing)?.map(Number) ?? [];
    const circles = [...circlesOf('spread', page), ...circlesOf('limit', page)];
    expect(circles.length).toBeGreaterThanOrEqual(rows.length);
    for (const { x, y, r } of circles) {
      expect(x - r).toBeGreaterThan(left ?? NaN);
      expect(x + r).toBeLessThan(right ?? NaN);
      expect(y - r).toBeGreaterThan(top ?? NaN);
      expect(y + r).toBeLessThan(bottom ?? NaN);
    }
  }

  it('show the limit about the points that were kept out, to the scale of the residuals', () => {
    const { across, down } = readDrawing(html, 'residuals');
    const larger = Number(/drawn (\d+) times too long/u.exec(html)?.[1]);
    const limits = circlesOf('limit');
    const kept = rows.filter(({ role }) => role === 'check');
    expect(limits).toHaveLength(kept.length);
    for (const row of kept) {
      const own = limits.find(
        ({ x, y }) => Math.abs(x - across(at(row, 'easting_m'))) < 1 && Math.abs(y - down(at(row, 'northing_m'))) < 1,
      );
      expect(own?.r).toBeCloseTo(0.05 * larger * (across(1) - across(0)), 0);
    }
    expect(html).toContain('Dashed about a diamond: its limit.');
  });

  it('have none where no sigmas are stated, and the page says so', async () => {
    const unstated = 'tests/cases/fit-site/without-sigmas-the-residuals-speak';
    for (const name of ['p', 'control']) copyFileSync(`${unstated}/${name}.csv`, join(folder, `unstated-${name}.csv`));
    const words = ['fit-site', 'unstated-p.csv', '--control', 'unstated-control.csv', ...SYSTEM];
    const { html: plain } = await runWithReport(folder, words, 'plain');
    expect(plain).toContain('No circles of 95 %: no sigmas are stated, or nothing checks the points.');
    expect(plain.includes('class="spread"')).toBe(false);
  });
});
