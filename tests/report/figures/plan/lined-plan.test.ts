import { describe, expect, it } from 'vitest';
import type { PlottedEllipse } from '../../../../src/records/reports/network-page-report.js';
import type { ReportAxis } from '../../../../src/records/reports/reduction-report.js';
import { linedPlan } from '../../../../src/report/figures/plan/lined-plan.js';
import { densityWords } from '../../../../src/report/figures/plan/ellipse-density.js';
import type { LinedPlan } from '../../../../src/report/figures/plan/lined-plan.js';

const axis = (columnName: string, direction: ReportAxis['direction']): ReportAxis => ({
  columnName,
  name: columnName,
  abbreviation: columnName.slice(0, 1),
  direction,
  unitName: 'metre',
  metresPerUnit: 1,
});

/** So many stations a row and column, a hundred metres apart, each with an ellipse of so many metres. */
function gridOf(aside: number, majorM = 0.02, stays = false, besides = 0): LinedPlan {
  const places = Array.from({ length: aside * aside }, (_, index) => ({
    first: 100 * (index % aside),
    second: 100 * Math.floor(index / aside),
  }));
  const summary: PlottedEllipse['summary'] = {
    ellipseMajor95M: majorM,
    ellipseMinor95M: 0.7 * majorM,
    ellipseAzimuthDeg: 0,
    circle95M: majorM,
    vertical95M: 0.03,
  };
  return linedPlan({
    id: 'grid',
    title: 'grid',
    description: 'grid',
    axes: [axis('easting_m', 'east'), axis('northing_m', 'north')],
    lines: [],
    marks: places.map((place, index) => ({
      place,
      name: String(index),
      symbol: 'circle',
      classes: 'mark',
      area: 26,
      rank: 2,
      ellipseM: majorM,
    })),
    ellipses: places.map((place) => ({ place, summary, bearingDeg: 0, classes: 'blue', stays })),
    besides: places.slice(0, besides).map((place) => ({ place, summary, bearingDeg: 0, classes: 'inkline dash' })),
  });
}

const largest = (plan: LinedPlan): number =>
  Math.max(...[...plan.drawing.body.html.matchAll(/<ellipse[^>]* ry="([\d.]+)"/g)].map(([, ry]) => Number(ry)));

describe('ellipses on a plan of lines', () => {
  it('are counted without those between stations, which are all drawn', () => {
    // 64 stations that fail and 24 lines: of more than sixty that fail only the largest are drawn, whatever stands beside them.
    const plan = gridOf(8, 0.02, true, 24);
    expect(densityWords(plan.density)).toContain('Of 64 ellipses the 24 largest are drawn; the other 40 stand as');
    expect(plan.drawing.body.html.match(/<ellipse[^>]*inkline dash/gu)).toHaveLength(24);
  });

  it('stand about marks that are drawn, however many are left out: an empty one would be an open sign', () => {
    const { html } = gridOf(24).drawing.body;
    const marks = new Set(
      [...html.matchAll(/<use href="[^"]*" x="([^"]*)" y="([^"]*)"/gu)].map(([, x, y]) => `${x ?? ''} ${y ?? ''}`),
    );
    const ellipses = [...html.matchAll(/<ellipse[^>]*translate\(([-\d.]+ [-\d.]+)\)/gu)].map(([, at = '']) => at);
    expect(marks.size).toBeLessThanOrEqual(300);
    expect(ellipses.length).toBeGreaterThan(20);
    expect(ellipses.filter((at) => !marks.has(at))).toEqual([]);
  });

  it('are large where stations are few', () => {
    expect(largest(gridOf(3))).toBeGreaterThan(12);
    expect(largest(gridOf(3))).toBeLessThanOrEqual(30);
  });

  // Factors are round, so that of several sizes one is drawn nearly as large as it may be.
  it.each([0.01, 0.012, 0.015, 0.02, 0.03, 0.05])('stay apart where they are many: %s m', (majorM) => {
    const plan = gridOf(16, majorM);
    expect(2 * largest(plan)).toBeLessThan(Math.sqrt((760 * plan.drawing.height) / 256));
  });
});

/** So many vectors from one base to places on a ring, those of some failing. */
function sheafOf(count: number): LinedPlan {
  const base = { first: 0, second: 0 };
  const ends = Array.from({ length: count }, (_, index) => ({
    first: 1000 * Math.cos((index * 2 * Math.PI) / count),
    second: 1000 * Math.sin((index * 2 * Math.PI) / count),
  }));
  return linedPlan({
    id: 'sheaf',
    title: 'sheaf',
    description: 'sheaf',
    axes: [axis('easting_m', 'east'), axis('northing_m', 'north')],
    lines: ends.map((to, index) => ({ from: base, to, answer: index % 3 === 0 ? 'no' : 'within' })),
    marks: ends.map((place, index) => ({
      place,
      name: String(index),
      symbol: 'circle',
      classes: 'mark',
      area: 26,
      rank: 2,
      ellipseM: 0,
    })),
    ellipses: [],
  });
}
const strokesOf = (plan: LinedPlan, classes: string): readonly string[] =>
  [...plan.drawing.body.html.matchAll(new RegExp(`<path class="${classes}" d="([^"]*)"`, 'gu'))].flatMap(
    ([, path = '']) => path.split('M').filter((stroke) => stroke !== ''),
  );

describe('lines on a plan', () => {
  it('are whole where they are few', () => {
    const plan = sheafOf(60);
    expect(plan.areEndsOnly).toBe(false);
    expect(strokesOf(plan, 'off')).toHaveLength(20);
  });

  it('are drawn by their two ends where they are a sheaf, and every one that fails is', () => {
    const plan = sheafOf(600);
    expect(plan.areEndsOnly).toBe(true);
    expect(strokesOf(plan, 'off')).toHaveLength(2 * 200);
    for (const stroke of strokesOf(plan, 'off')) {
      const [x = 0, y = 0, toX = 0, toY = 0] = stroke.split(/[ L]/u).map(Number);
      expect(Math.hypot(toX - x, toY - y)).toBeLessThan(17);
    }
  });
});

describe('names on a plan', () => {
  it('stand once where a place was occupied twice', () => {
    const mark = (first: number, name: string) => ({
      place: { first, second: 0 },
      name,
      symbol: 'circle' as const,
      classes: 'mark' as const,
      area: 26,
      rank: 2,
      ellipseM: 0,
    });
    const plan = linedPlan({
      id: 'twice',
      title: 'twice',
      description: 'twice',
      axes: [axis('easting_m', 'east'), axis('northing_m', 'north')],
      lines: [],
      marks: [mark(0, 'QP-06'), mark(0.01, 'QP-06'), mark(900, 'QP-07'), mark(900.01, 'QP-08')],
      ellipses: [],
    });
    const names = [...plan.drawing.body.html.matchAll(/>(QP-\d+)</gu)].map(([, name]) => name);
    expect(names.toSorted()).toEqual(['QP-06', 'QP-07', 'QP-08']);
  });
});
