import { describe, expect, it } from 'vitest';
import { densityWords, ellipseDensity } from '../../../../src/report/figures/plan/ellipse-density.js';
import type { EllipseDensity } from '../../../../src/report/figures/plan/ellipse-density.js';

interface One {
  readonly x: number;
  readonly y: number;
  readonly sizeM: number;
  readonly fails: boolean;
}

// Identities: every ellipse is drawn or counted in one square, and a median lies between the least and the largest of its square.
const spread = (count: number, failing: number): readonly One[] =>
  Array.from({ length: count }, (_, i) => ({
    x: (i * 137) % 700,
    y: (i * 89) % 400,
    sizeM: 0.01 + ((i * 31) % count) * 1e-5,
    fails: i % Math.ceil(count / Math.max(1, failing)) === 0 && failing > 0,
  }));
const densityOf = (items: readonly One[]): EllipseDensity<One> =>
  ellipseDensity(items, { placeOf: (one) => one, sizeM: ({ sizeM }) => sizeM, stays: ({ fails }) => fails });

describe('the ellipses of many points', () => {
  it('are all drawn while they are few', () => {
    const few = spread(60, 3);
    expect(densityOf(few)).toEqual({ drawn: few, stayed: 0, squares: [] });
    expect(densityWords(densityOf(few))).toBe('');
  });

  it('are drawn of those that fail and of the largest, and each other one is counted in a square', () => {
    const many = spread(500, 10);
    const { drawn, stayed, squares } = densityOf(many);
    const failing = many.filter(({ fails }) => fails);
    expect(failing).toHaveLength(10);
    expect(failing.every((one) => drawn.includes(one))).toBe(true);
    expect([stayed, drawn.length]).toEqual([10, 34]);
    expect(squares.reduce((sum, { count }) => sum + count, 0)).toBe(500 - 34);
    const leastOfDrawn = Math.min(...drawn.filter(({ fails }) => !fails).map(({ sizeM }) => sizeM));
    const left = many.filter((one) => !drawn.includes(one));
    expect(left.every(({ sizeM }) => sizeM <= leastOfDrawn)).toBe(true);
    const sizes = new Set(left.map(({ sizeM }) => sizeM));
    expect(squares.every(({ sizeM }) => sizes.has(sizeM))).toBe(true);
    expect(densityWords({ drawn, stayed, squares })).toBe(
      ` Of 500 ellipses 10 of points that fail or are for review and the 24 largest of the others are drawn; the other 466 stand as ${String(squares.length)} pale discs, each as large as the median of its square of the plan.`,
    );
  });

  it('have the median of a square, worked by hand', () => {
    // Sixty-one of one square: the largest twenty-four are drawn, of the other thirty-seven the nineteenth is in the middle.
    const one = Array.from({ length: 61 }, (_, i) => ({ x: 5, y: 5, sizeM: i + 1, fails: false }));
    expect(densityOf(one).squares).toEqual([{ at: { x: 5, y: 5 }, sizeM: 19, count: 37 }]);
  });

  it('are by size alone where more fail than can be drawn', () => {
    const { drawn, stayed } = densityOf(spread(200, 200));
    expect([drawn.length, stayed]).toEqual([24, 0]);
  });
});
