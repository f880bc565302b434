import { readFileSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { readDrawing } from '../../support/drawing-axes.js';
import { folderWithExamples, runWithReport } from '../../support/report-pages.js';
import type { ReportRun } from '../../support/report-pages.js';

// A month with three marks that are occupied every day: thirty signs side by side once stood where nothing was measured, beyond the frame.
const folder = folderWithExamples();
let month: ReportRun;
let onBase: ReportRun;

beforeAll(async () => {
  month = await runWithReport(folder, ['reduce-points', '--job', 'examples/quillback-pan-month/job.toml'], 'month');
  // The example without the tolerances that two of its places have of their own.
  const places = readFileSync(join(folder, 'examples/quillback-pan-plan/points.csv'), 'utf8').trimEnd().split('\n');
  writeFileSync(
    join(folder, 'places.csv'),
    `${places.map((line) => line.split(',').slice(0, 4).join(',')).join('\n')}\n`,
  );
  onBase = await runWithReport(
    folder,
    [
      'plan-baseline',
      'places.csv',
      '--base',
      '-31.452,21.47,1188',
      '--system',
      'EPSG:2049',
      '--limit-horizontal',
      '0.001',
      '--limit-vertical',
      '0.001',
    ],
    'plan',
  );
}, 120_000);

afterAll(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('a point that was occupied thirty times', () => {
  it('has one sign for each verdict, where it is', () => {
    const { across, down, marks } = readDrawing(month.html, 'plan');
    for (const id of ['C-01', 'C-02', 'C-03']) {
      const rows = month.rows.filter((row) => row['point_id'] === id);
      expect(rows).toHaveLength(30);
      const verdicts = new Set(rows.map((row) => row['verdict']));
      const [x, y] = [across(Number(rows[0]?.['westing_m'])), down(Number(rows[0]?.['southing_m']))];
      const near = marks.filter((mark) => Math.hypot(mark.x - x, mark.y - y) < 5);
      expect(near, id).toHaveLength(verdicts.size);
      expect(near[0]?.sign.startsWith(rows[0]?.['verdict'] === 'review' ? 'doubt' : 'mark'), id).toBe(true);
    }
    expect(month.html).toContain('one sign stands for all occupations of a verdict');
  });

  it('runs no sign over the frame, and its base has one name and one set of rings', () => {
    const start = month.html.indexOf('aria-labelledby="plan-t');
    const drawing = month.html.slice(start, month.html.indexOf('</svg>', start));
    const { marks } = readDrawing(month.html, 'plan');
    const right = Number(/<path class="axis" d="M[\d.]+ [\d.]+H([\d.]+)/u.exec(drawing)?.[1]);
    expect(right).toBeGreaterThan(500);
    expect(marks.filter(({ x }) => x > right || x < 0)).toEqual([]);
    expect([...drawing.matchAll(/>B1[^<]*</gu)].map(([text]) => text)).toEqual(['>B1<']);
    const rings = [...drawing.matchAll(/>(\d+) km</gu)].map(([, km]) => km);
    expect(new Set(rings).size).toBe(rings.length);
    expect(month.html).toContain('from base <bdi>B1</bdi> (30 set-ups)');
  });
});

describe('the occupations that a page draws', () => {
  it('are those in doubt first, though some are in doubt since their repeats were compared at the end', () => {
    const drawn = [
      ...month.html.matchAll(/<article class="stand">\s*<h3>([\s\S]*?)<\/h3>\s*<p class="small">(\w+)/gu),
    ].map(([, name = '', verdict = '']) => ({ name: name.replaceAll(/<[^>]*>/gu, ''), verdict }));
    const doubted = month.rows.filter((row) => row['verdict'] !== 'accepted');
    expect(doubted.length).toBeGreaterThan(20);
    expect(drawn.length).toBeLessThan(month.rows.length);
    expect(drawn.filter(({ verdict }) => verdict !== 'accepted')).toHaveLength(Math.min(doubted.length, drawn.length));
    for (const { point_id: id = '', occupation = '' } of doubted.slice(0, drawn.length))
      expect(
        drawn.some(({ name }) => name === `${id}, occupation ${occupation}`),
        `${id} ${occupation}`,
      ).toBe(true);
  });
});

describe('a base', () => {
  it('hides no failure that stands on it: it is drawn before the signs', () => {
    for (const [html, id] of [
      [month.html, 'plan'],
      [onBase.html, 'coverage'],
    ] as const) {
      const start = html.indexOf(`aria-labelledby="${id}-t`);
      const drawing = html.slice(start, html.indexOf('</svg>', start));
      expect(drawing.indexOf('class="base"')).toBeGreaterThan(0);
      expect(drawing.indexOf('class="base"')).toBeLessThan(drawing.indexOf('<use '));
    }
  });
});

describe('a base at a place that fails', () => {
  it('is hollow, so that the red cross on it is seen', async () => {
    writeFileSync(
      join(folder, 'here.csv'),
      'point_id,latitude_deg,longitude_deg,ellipsoidal_height_m\nA,-31.5,21.4,1040\nB,-31.6,21.2,1044\n',
    );
    const limits = (size: string): readonly string[] => ['--limit-horizontal', size, '--limit-vertical', size];
    const words = ['plan-baseline', 'here.csv', '--base', '-31.5,21.4,1040', '--system', 'EPSG:2049'];
    const signOf = async (size: string): Promise<string | undefined> => {
      const { html } = await runWithReport(folder, [...words, ...limits(size)], `at-${size}`);
      return /<path class="(base|doubt)" transform/u.exec(html.slice(html.indexOf('aria-labelledby="coverage-t')))?.[1];
    };
    expect([await signOf('0.001'), await signOf('1')]).toEqual(['doubt', 'base']);
  }, 60_000);
});

describe('tolerances that no distance meets', () => {
  it('are not answered with a nearer base, and no range is said to be drawn', () => {
    expect(onBase.html).toContain('<b>Next.</b> No place for a base helps');
    expect(onBase.html).not.toContain('set the base nearer');
    expect(onBase.html).toContain('No distance from a base meets the tolerances, so no range is drawn.');
    expect(onBase.html).not.toContain('Lines: usable range');
  });
});
