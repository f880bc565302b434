import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { compensatedSum } from '../../../src/core/numeric/compensated-sum.js';

describe('compensatedSum', () => {
  it('keeps small terms beside large ones that cancel', () => {
    expect(compensatedSum([1, 1e100, 1, -1e100])).toBe(2);
    expect(compensatedSum([1e16, 1, 1, 1, 1, -1e16])).toBe(4);
  });

  it('is 0 for nothing', () => {
    expect(compensatedSum([])).toBe(0);
  });

  it('adds a hundred thousand tenths to ten thousand exactly', () => {
    expect(compensatedSum(new Float64Array(100000).fill(0.1))).toBe(10000);
  });

  it('gives the sum that whole numbers give', () => {
    fc.assert(
      fc.property(fc.array(fc.integer({ min: -(2 ** 52), max: 2 ** 52 }), { maxLength: 200 }), (whole) => {
        const exact = whole.reduce((sum, n) => sum + BigInt(n), 0n);
        // Dividing by a power of two is exact, so the sum must be the double nearest to the true one, or its neighbour.
        const found = compensatedSum(whole.map((n) => n / 2 ** 20));
        expect(Math.abs(found - Number(exact) / 2 ** 20)).toBeLessThanOrEqual(Math.abs(found) * 2 ** -52);
      }),
      { seed: 1 },
    );
  });
});
