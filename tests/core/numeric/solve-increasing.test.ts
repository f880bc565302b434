import { describe, expect, it } from 'vitest';
import { solveIncreasing } from '../../../src/core/numeric/solve-increasing.js';

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
