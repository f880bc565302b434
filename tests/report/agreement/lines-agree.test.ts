import { readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { parse } from 'csv-parse/sync';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDrawing } from '../../support/drawing-axes.js';
import { runEveryPage } from '../../support/page-runs.js';
import type { PageRuns } from '../../support/page-runs.js';
import { drawingsOf, tablesOf, textAt } from '../../support/read-page.js';
import type { DataRow } from '../../support/read-page.js';
import { plantFailures } from './planted.js';

// Figures of dots, bars and lines, which are rows of no table, held against what the same run read and wrote.
const DOT = 0.6;
/** More epochs of a stand are thinned. */
const FEW_EPOCHS = 60;
let runs: PageRuns;

beforeAll(async () => {
  runs = await runEveryPage(plantFailures);
}, 300_000);

afterAll(() => {
  rmSync(runs.folder, { recursive: true, force: true });
});

const drawingOf = (html: string, id: string): string => {
  const start = html.indexOf(`aria-labelledby="${id}-t `);
  if (start < 0) throw new Error(`no drawing ${id}`);
  return html.slice(start, html.indexOf('</svg>', start));
};
/** How many pieces the paths of a class have. */
const piecesOf = (drawing: string, classes: string): number =>
  [...drawing.matchAll(new RegExp(`class="${classes}" d="([^"]*)"`, 'gu'))].reduce(
    (sum, [, path = '']) => sum + path.split('M').length - 1,
    0,
  );
const reads = (path: string): readonly DataRow[] =>
  parse<DataRow>(readFileSync(join(runs.folder, path)), { columns: true });
const at = (row: DataRow, name: string): number => Number(textAt(row, name));

describe('epochs of a stand', () => {
  it('are a dot each in plan, and one in each of three axes over time', () => {
    const { html, rows } = runs.of('reduce');
    const stands = drawingsOf(html).filter((id) => /^o\d+-s$/u.test(id));
    expect(stands.length).toBeGreaterThan(20);
    let held = 0;
    for (const id of stands) {
      const drawing = drawingOf(html, id);
      const [, point, occupation] = /<title[^>]*>([^<]*), occupation ([^<:]*): epochs in plan/u.exec(drawing) ?? [];
      const row = rows.find((own) => own['point_id'] === point && own['occupation'] === occupation);
      if (row === undefined) throw new Error(`no row of ${point ?? ''} ${occupation ?? ''}`);
      if (at(row, 'epochs_used') + at(row, 'epochs_rejected') > FEW_EPOCHS) continue;
      held += 1;
      expect(piecesOf(drawing, 'dots'), `${id} ${point ?? ''}`).toBe(at(row, 'epochs_used'));
      expect(piecesOf(drawingOf(html, id.replace('-s', '-t')), 'dots'), id).toBe(3 * at(row, 'epochs_used'));
    }
    expect(held).toBeGreaterThan(5);
  });
});

describe('used and refused epochs over time', () => {
  it('are counted as the data file has them', () => {
    const { html, rows } = runs.of('reduce');
    const counts = [...drawingOf(html, 'refused').matchAll(/class="e s">([^<]*)<[\s\S]*?class="s">(\d+)</gu)].map(
      ([, name, count]) => [name, Number(count)] as const,
    );
    const used = rows.reduce((sum, row) => sum + at(row, 'epochs_used'), 0);
    expect(counts[0]).toEqual(['used', used]);
    // An epoch is refused for each of its reasons, and for one at least.
    const refused = rows.reduce((sum, row) => sum + at(row, 'epochs_rejected'), 0);
    expect(refused).toBeGreaterThan(0);
    expect(counts.slice(1).reduce((sum, [, count]) => sum + count, 0)).toBeGreaterThanOrEqual(refused);
  });
});

describe('the link', () => {
  it('has a line for each minute of the fixes, red where one of them was not fixed or too old', () => {
    const minutes = new Map<string, boolean>();
    for (const row of reads('examples/quillback-pan-link/fixes.csv')) {
      const minute = textAt(row, 'epoch_utc').slice(0, 16);
      const isBad = textAt(row, 'solution') !== 'fixed' || at(row, 'correction_age_s') > 10;
      minutes.set(minute, (minutes.get(minute) ?? false) || isBad);
    }
    const bad = [...minutes.values()].filter((isBad) => isBad).length;
    expect(bad).toBeGreaterThan(0);
    const drawing = drawingOf(runs.of('link').html, 'link1-ages');
    expect(piecesOf(drawing, 'off')).toBe(bad);
    expect(piecesOf(drawing, 'blue')).toBe(minutes.size - bad);
    expect(drawing.split('class="gone"').length - 1).toBe(runs.of('link').beside('outages').length);
  });

  it('has the numbers of its outages on the map of where corrections came in time', () => {
    const outages = runs.of('link').beside('outages');
    const words = [...drawingOf(runs.of('link').html, 'link1-cells').matchAll(/<text[^>]*>(\d+)<\/text>/gu)].map(
      ([, text]) => text,
    );
    expect(outages.length).toBeGreaterThan(1);
    for (const index of outages.keys()) expect(words).toContain(String(index + 1));
  });
});

describe('the map of a surface', () => {
  it('has a dot where each benchmark is that was fitted in height', () => {
    const { html, rows } = runs.of('surface');
    const { across, down, marks } = readDrawing(html, 'surface-map');
    const wanted = rows.filter((row) => row['role'] === 'fit' && textAt(row, 'residual_height_m') !== '');
    const dots = marks.filter(({ sign }) => sign.startsWith('mark-circle'));
    expect(dots).toHaveLength(wanted.length);
    for (const row of wanted) {
      const [x, y] = [across(at(row, 'westing_m')), down(at(row, 'southing_m'))];
      expect(
        dots.some((dot) => Math.abs(dot.x - x) < DOT && Math.abs(dot.y - y) < DOT),
        textAt(row, 'point_id'),
      ).toBe(true);
    }
  });
});

describe('the map of a surface', () => {
  it('has a diamond where each benchmark is that was kept out, crossed where it is off', () => {
    const { html, rows } = runs.of('surface');
    const { across, down, marks } = readDrawing(html, 'surface-map');
    const kept = rows.filter((row) => row['role'] === 'check' && textAt(row, 'residual_height_m') !== '');
    expect(kept.length).toBeGreaterThan(0);
    const diamonds = marks.filter(({ sign }) => sign.startsWith('doubt-diamond'));
    expect(diamonds).toHaveLength(kept.length);
    const crosses = marks.filter(({ sign }) => sign.startsWith('bad-times'));
    expect(crosses).toHaveLength(rows.filter((row) => textAt(row, 'verdict') === 'no').length);
    for (const row of kept) {
      const [x, y] = [across(at(row, 'westing_m')), down(at(row, 'southing_m'))];
      const isAt = (mark: { readonly x: number; readonly y: number }): boolean =>
        Math.abs(mark.x - x) < DOT && Math.abs(mark.y - y) < DOT;
      expect(diamonds.some(isAt), textAt(row, 'point_id')).toBe(true);
      expect(crosses.some(isAt), textAt(row, 'point_id')).toBe(textAt(row, 'verdict') === 'no');
    }
  });
});

describe('how the sigma of a fit grows', () => {
  it('is drawn to three times the reach of the control, which ends where its table says', () => {
    for (const page of ['site', 'surface'] as const) {
      const { html } = runs.of(page);
      const drawing = drawingOf(html, 'reach-figure');
      const { across } = readDrawing(html, 'reach-figure');
      const row = tablesOf(html)
        .find(({ name }) => name === 'Parameters.')
        ?.rows.find(([what]) => what === 'Control reaches from its middle');
      const reachM = 1000 * Number(row?.[1]);
      expect(row?.[3]).toBe('km');
      const ends = Number(/class="off dash" d="M([\d.]+),/u.exec(drawing)?.[1]);
      expect(Math.abs(ends - across(reachM))).toBeLessThan(DOT);
      const line = /class="blue" d="([^"]*)"/u.exec(drawing)?.[1] ?? '';
      const last = Number(/L([\d.]+),[\d.]+$/u.exec(line)?.[1]);
      expect(Math.abs(last - across(3 * reachM))).toBeLessThan(2 * DOT);
    }
  });
});

describe('control against the network', () => {
  it('has a mark at each difference in plan, a cross where the test refuses it', () => {
    const { html, json } = runs.of('network');
    const { across, down, marks } = readDrawing(html, 'control-figure');
    const control = (json['control'] as readonly DataRow[]).filter((row) => row['difference_east_m'] !== null);
    expect(control.length).toBeGreaterThan(2);
    expect(marks).toHaveLength(control.length);
    for (const row of control) {
      const [x, y] = [across(at(row, 'difference_east_m')), down(at(row, 'difference_north_m'))];
      const own = marks.find((mark) => Math.abs(mark.x - x) < DOT && Math.abs(mark.y - y) < DOT);
      expect(own?.sign.startsWith('bad-'), textAt(row, 'point_id')).toBe(row['verdict'] === 'no');
    }
  });
});
