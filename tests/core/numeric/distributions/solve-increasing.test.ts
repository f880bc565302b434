import { describe, expect, it } from 'vitest';
import type { ValueAndSlope } from '../../../../src/core/numeric/distributions/solve-increasing.js';
import { solveIncreasing } from '../../../../src/core/numeric/distributions/solve-increasing.js';

describe('solveIncreasing', () => {
  it('finds a root from far off on either side', () => {
    for (const start of [-500, 0, 500]) {
      const found = solveIncreasing((y) => ({ value: Math.sinh(y / 50) - 1, slope: Math.cosh(y / 50) / 50 }), start);
      expect(found).toBeCloseTo(50 * Math.asinh(1), 12);
    }
  });

  it('finds a root where plain Newton steps run away', () => {
    const found = solveIncreasing((y) => ({ value: Math.atan(y - 3), slope: 1 / (1 + (y - 3) ** 2) }), 40);
    expect(found).toBeCloseTo(3, 12);
  });

  it('works without a slope, by halving', () => {
    expect(solveIncreasing((y) => ({ value: y ** 3 - 2, slope: 0 }), 0)).toBeCloseTo(Math.cbrt(2), 14);
  });

  it('finds a root far from where it starts, on either side', () => {
    for (const root of [-1e12, -3e5, 3e5, 1e12]) {
      expect(solveIncreasing((y) => ({ value: Math.sign(y - root), slope: 0 }), 0) / root).toBeCloseTo(1, 12);
      expect(solveIncreasing((y) => ({ value: y - root, slope: 1 }), 0)).toBe(root);
    }
  });

  it('says so when there is no root', () => {
    expect(() => solveIncreasing(() => ({ value: -1, slope: 0 }), 0)).toThrow('did not settle');
  });
});

/** The places that were tried, and the answer. */
function tried(at: (y: number) => ValueAndSlope, start: number, below?: number): { places: number[]; found: number } {
  const places: number[] = [];
  const found = solveIncreasing(
    (y) => {
      places.push(y);
      return at(y);
    },
    start,
    below,
  );
  return { places, found };
}

/** A function known at a few places only. */
function table(
  entries: Readonly<Record<number, readonly [value: number, slope: number]>>,
): (y: number) => ValueAndSlope {
  return (y) => {
    const [value, slope] = entries[y] ?? [0, 0];
    return { value, slope };
  };
}

describe('the steps of solveIncreasing', () => {
  it('reach twice as far each time while one side is unknown, then go straight to the root', () => {
    expect(tried((y) => ({ value: y - 10, slope: 1 }), 0)).toEqual({ places: [0, 1, 3, 7, 10], found: 10 });
    expect(tried((y) => ({ value: y + 10, slope: 1 }), 0)).toEqual({ places: [0, -1, -3, -7, -10], found: -10 });
  });

  it('go straight where the root is within reach or both sides are known', () => {
    expect(tried((y) => ({ value: y - 1, slope: 1 }), 0)).toEqual({ places: [0, 1], found: 1 });
    expect(tried((y) => ({ value: y - 3, slope: 1 }), 50, 0)).toEqual({ places: [50, 3], found: 3 });
  });

  it('halve where the slope says nothing or falls', () => {
    for (const slope of [0, -1]) {
      expect(tried((y) => ({ value: y - 2.25, slope }), 8, 0)).toEqual({
        places: [8, 4, 2, 3, 2.5, 2.25],
        found: 2.25,
      });
    }
  });

  it('halve where a step would end on a side already known', () => {
    expect(tried(table({ 1: [1, 1] }), 1, 0).places).toEqual([1, 0.5]);
    expect(tried(table({ 0: [-1, 1], 1: [1, 2], 0.5: [-0.5, 1] }), 0).places).toEqual([0, 1, 0.5, 0.75]);
  });

  it('halve where a step would end beyond a side already known', () => {
    expect(tried(table({ 4: [1, 0.1] }), 4, 0).places).toEqual([4, 2]);
    expect(tried(table({ 4: [1, 0.5], 2: [-1, 0.1] }), 4, 0).places).toEqual([4, 2, 3]);
  });

  it('end when a step is within the last digit of the place, and take it', () => {
    const ulp = 2 ** -49;
    expect(tried(() => ({ value: 1e-15, slope: 1 }), 10)).toEqual({ places: [10], found: 10 - ulp });
    expect(tried(() => ({ value: 1e-15, slope: 1 }), 10, 10)).toEqual({ places: [10], found: 10 });
  });

  it('end when both sides meet in the last digits, without a root between them', () => {
    const { places, found } = tried((y) => ({ value: y < 1000 / 3 ? -1 : 1, slope: 0 }), 1024, 0);
    expect(Math.abs(found - 1000 / 3)).toBeLessThanOrEqual(2 ** -43);
    expect(places.length).toBeLessThanOrEqual(56);
  });
});
