import { describe, expect, it } from 'vitest';
import type { ReportAxis } from '../../../../src/records/reports/reduction-report.js';
import { farWords, planExtent } from '../../../../src/report/figures/plan/plan-extent.js';

const axis = (direction: ReportAxis['direction']): ReportAxis => ({
  columnName: `${direction}ing_m`,
  name: `${direction}ing`,
  abbreviation: 'E',
  direction,
  unitName: 'metre',
  metresPerUnit: 1,
});
const AXES = [axis('east'), axis('north')] as const;
const place = (first: number, second: number): { first: number; second: number } => ({ first, second });

describe('the ground a plan shows', () => {
  const site = Array.from({ length: 19 }, (_, i) => place(100 * (i % 5), 100 * Math.floor(i / 5)));

  it('leaves out one point 200 km off, and not the whole other end of a line', () => {
    const { near, far } = planExtent([...site, place(200_000, 0)], AXES, (one) => one);
    expect(near).toEqual(site);
    expect(far).toEqual([place(200_000, 0)]);
    const two = [...site, ...site.map(({ first, second }) => place(first + 50_000, second))];
    expect(planExtent(two, AXES, (one) => one).far).toEqual([]);
  });

  it('shows all of few points, and of points at one place', () => {
    expect(planExtent([place(0, 0), place(1e6, 0)], AXES, (one) => one).far).toEqual([]);
    expect(planExtent([...site.map(() => place(0, 0)), place(9, 9)], AXES, (one) => one).far).toEqual([]);
  });

  it('names what it leaves out', () => {
    expect(farWords([])).toBe('');
    expect(farWords(['A', 'B', 'C', 'D', 'E', 'F', 'G'])).toBe(' Far outside and not drawn: A, B, C, D, E and 2 more.');
  });
});
