import { existsSync, readFileSync, rmSync } from 'node:fs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDrawing } from '../../support/drawing-axes.js';
import { PAGE_RUNS, runEveryPage } from '../../support/page-runs.js';
import type { PageName, PageRuns } from '../../support/page-runs.js';
import { drawingsOf } from '../../support/read-page.js';
import { DRAWN_ELSEWHERE, FIGURES } from './figure-rows.js';
import type { WantedMark } from './figure-rows.js';
import { plantFailures } from './planted.js';

// Every figure whose marks are rows of a table, read back by the words of its ticks as a reader does: each mark where the data file has it, of the sign
// that its verdict asks for, and no mark besides. A figure that no row covers fails the last test.
/** Ticks and marks are printed to a tenth of a dot, and an axis is drawn out from its ticks. */
const DOT = 0.6;
let runs: PageRuns;

beforeAll(async () => {
  runs = await runEveryPage(plantFailures);
}, 300_000);

afterAll(() => {
  rmSync(runs.folder, { recursive: true, force: true });
});

function speaksOf(where: string, words: string): boolean {
  const path = /tests\/\S+$/u.exec(where)?.[0] ?? ''; // No path is no test.
  return existsSync(path) && readFileSync(path, 'utf8').includes(words);
}

/** Marks that are wanted and not drawn, and marks that are drawn and not wanted. */
function faultsOf(html: string, id: string, wanted: readonly WantedMark[]): readonly string[] {
  const { across, down, marks } = readDrawing(html, id);
  const left = [...marks];
  const faults = wanted.flatMap(({ first, second, sign }) => {
    const [x, y] = [across(first), down(second)];
    const found = left.findIndex(
      (mark) => sign.test(mark.sign) && Math.abs(mark.x - x) < DOT && Math.abs(mark.y - y) < DOT,
    );
    if (found < 0) return [`no mark ${String(sign)} at ${x.toFixed(2)}, ${y.toFixed(2)}`];
    left.splice(found, 1);
    return [];
  });
  return [...faults, ...left.map(({ sign, x, y }) => `a mark too many: ${sign} at ${String(x)}, ${String(y)}`)];
}

describe('marks of a figure stand where the data has them, by their verdicts', () => {
  it.each(FIGURES.map((row) => [row.page, row.id, row] as const))('%s: %s', (page, id, { marks }) => {
    const wanted = marks(runs);
    expect(wanted.length).toBeGreaterThan(2);
    expect(faultsOf(runs.of(page).html, id, wanted)).toEqual([]);
  });

  it('fail somewhere in each page that can fail, so that failing marks are looked for', () => {
    for (const page of ['check', 'plan', 'site', 'network'] as const) {
      const failing = FIGURES.filter((row) => row.page === page).flatMap(({ marks }) =>
        marks(runs).filter(({ sign }) => sign.source.startsWith('^bad')),
      );
      expect(failing.length, page).toBeGreaterThan(0);
    }
  });

  it('and a mark two dots away, of another sign or missing is noticed', () => {
    const { html } = runs.of('site');
    const row = FIGURES.find(({ page }) => page === 'site');
    const wanted = row?.marks(runs) ?? [];
    const use = /<use href="#residuals-mark-circle-30" x="([\d.]+)"/u;
    expect(use.test(html)).toBe(true);
    const moved = html.replace(use, (all, x: string) => all.replace(x, String(Number(x) + 2)));
    expect(faultsOf(moved, 'residuals', wanted)).toHaveLength(2);
    const hidden = html.replace('<use href="#residuals-bad-times', '<use href="#residuals-mark-circle');
    expect(faultsOf(hidden, 'residuals', wanted)).toHaveLength(2);
    expect(faultsOf(html.replace(/<use href="#residuals-bad[^>]*>/u, ''), 'residuals', wanted)).toHaveLength(1);
  });
});

describe('every page', () => {
  it('has no figure that nothing holds', () => {
    const covered = new Set(FIGURES.map(({ page, id }) => `${page}: ${id}`));
    const open = (Object.keys(PAGE_RUNS) as PageName[]).flatMap((page) =>
      drawingsOf(runs.of(page).html)
        .map((id) => `${page}: ${id}`)
        .filter((name) => !covered.has(name) && !DRAWN_ELSEWHERE.some(([pattern]) => pattern.test(name))),
    );
    expect(open).toEqual([]);
  });

  it('names for each other figure a test that speaks of it', () => {
    for (const [, where, words] of DRAWN_ELSEWHERE) expect(speaksOf(where, words), `${where}: ${words}`).toBe(true);
    // A test that is there and says nothing of the figure holds nothing.
    expect(speaksOf('tests/report/network/network-page.test.ts', "'no-such-figure'")).toBe(false);
    expect(speaksOf('tests/report/no-such.test.ts', 'it')).toBe(false);
  });
});
