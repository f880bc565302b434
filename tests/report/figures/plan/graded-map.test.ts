import { describe, expect, it } from 'vitest';
import type { ReportAxis } from '../../../../src/records/reports/reduction-report.js';
import { gradedMap } from '../../../../src/report/figures/plan/graded-map.js';

// A map that failing points are to be found on by name: our own rule.
const axis = (columnName: string, direction: ReportAxis['direction']): ReportAxis => ({
  columnName,
  name: columnName,
  abbreviation: columnName.slice(0, 1),
  direction,
  unitName: 'metre',
  metresPerUnit: 1,
});

describe('a map of graded numbers', () => {
  // Numbers every 100 m, and points between them, of which every seventh fails.
  const places = Array.from({ length: 99 }, (_, at) => ({
    place: { first: 100 * (at % 11), second: 100 * Math.floor(at / 11) },
    text: '−123.4',
    size: 1 + (at % 6),
    name: null,
  }));
  const points = Array.from({ length: 63 }, (_, at) => ({
    pointId: `BENCH-${String(at)}`,
    place: { first: 50 + 110 * (at % 9), second: 50 + 110 * Math.floor(at / 9) },
    fails: at % 7 === 3,
  }));
  const { html } = gradedMap({
    id: 'm',
    title: 't',
    description: 'd',
    axes: [axis('easting_m', 'east'), axis('northing_m', 'north')],
    places,
    points,
    outlines: [],
  }).body;
  const names = new Set([...html.matchAll(/>(BENCH-\d+)</gu)].map(([, name]) => name));

  it('names every point that fails, before any other and whatever numbers stand there', () => {
    const failing = points.filter(({ fails }) => fails).map(({ pointId }) => pointId);
    expect(failing.filter((id) => !names.has(id))).toEqual([]);
    expect(names.size).toBeLessThan(points.length);
  });

  it('keeps most numbers', () => {
    expect(html.split('−123.4').length - 1).toBeGreaterThan(40);
  });
});
