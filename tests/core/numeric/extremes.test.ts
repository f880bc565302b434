import { describe, expect, it } from 'vitest';
import { largestOf, smallestOf } from '../../../src/core/numeric/extremes.js';

describe('the largest and the smallest of a list', () => {
  it('are found in a million values, more than an argument list holds', () => {
    const values = Array.from({ length: 1_000_000 }, (_, index) => ((index * 7919) % 1_000_003) - 500_000);
    expect(() => Math.max(...values)).toThrow(RangeError);
    const sorted = Float64Array.from(values).sort();
    expect([smallestOf(values), largestOf(values)]).toEqual([sorted[0], sorted[sorted.length - 1]]);
  });

  it('are what was said where there is none', () => {
    expect([largestOf([]), largestOf([], 0), smallestOf([]), smallestOf([], 1)]).toEqual([-Infinity, 0, Infinity, 1]);
  });
});
