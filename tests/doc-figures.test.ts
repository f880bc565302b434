import { cpSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { docFigure } from '../tools/doc-figure.js';
import { filesUnder } from './support/repository-files.js';
import { runInProcess } from './support/run-in-process.js';

// The figures of docs are drawings of Pegbook's own pages. `npx vitest run tests/doc-figures.test.ts --update` draws them again.
const ROOT = fileURLToPath(new URL('..', import.meta.url));
const scratch = mkdtempSync(join(tmpdir(), 'pegbook-figures-'));
cpSync(join(ROOT, 'examples'), join(scratch, 'examples'), { recursive: true });

const DAY = 'examples/quillback-pan';
const REDUCE = ['reduce-points', `${DAY}/fixes.csv`, '--session', `${DAY}/session.toml`];
const CONTROL = ['--session', `${DAY}/session.toml`, '--control', `${DAY}/control.csv`];

/** Pages, what makes them, and which of their drawings stand in docs under which names. */
const PAGES: readonly {
  readonly page: string;
  readonly runs: readonly (readonly string[])[];
  readonly figures: Readonly<Record<string, (html: string) => string>>;
}[] = [
  {
    page: 'day.html',
    runs: [[...REDUCE, '-o', 'day.csv', '--report', 'day.html']],
    figures: {
      'day-plan': () => 'plan',
      'day-parts': () => 'parts',
      'qp-04-scatter': (html) => panelOf(html, 'QP-04, occupation 1: epochs in plan'),
      'qp-04-series': (html) => panelOf(html, 'QP-04, occupation 1: east, north and up over time'),
    },
  },
  {
    page: 'good.html',
    runs: [['check-tolerances', `${DAY}-check/points.csv`, ...CONTROL, '-o', 'good.csv', '--report', 'good.html']],
    figures: { 'good-residuals': () => 'residuals' },
  },
  {
    page: 'wrong.html',
    runs: [
      ['reduce-points', `${DAY}/fixes.csv`, '--session', 'examples/lessons/base-as-broadcast.toml', '-o', 'wrong.csv'],
      ['check-tolerances', 'wrong.csv', ...CONTROL, '-o', 'wrong-checks.csv', '--report', 'wrong.html'],
    ],
    figures: { 'wrong-residuals': () => 'residuals' },
  },
];

afterAll(() => {
  rmSync(scratch, { recursive: true, force: true });
});

function panelOf(html: string, title: string): string {
  return /id="([\w-]+)-t"/.exec(html.slice(html.lastIndexOf('<title', html.indexOf(`>${title}<`))))?.[1] ?? '';
}

describe('figures of docs', () => {
  for (const { page, runs, figures } of PAGES) {
    it(`of ${page} are as the product draws them`, async () => {
      for (const words of runs) {
        const { exit, stderr } = await runInProcess([...words, '-q'], { cwd: scratch });
        expect(exit, stderr).toBeLessThan(2);
      }
      const html = readFileSync(join(scratch, page), 'utf8');
      for (const [name, idOf] of Object.entries(figures))
        await expect(docFigure(html, idOf(html))).toMatchFileSnapshot(`../docs/figures/${name}.svg`);
    });
  }

  it('no figure is left that nothing draws', () => {
    const drawn = PAGES.flatMap(({ figures }) => Object.keys(figures).map((name) => `docs/figures/${name}.svg`));
    expect(filesUnder('docs/figures', '.svg').filter((path) => !drawn.includes(path))).toEqual([]);
  });
});
