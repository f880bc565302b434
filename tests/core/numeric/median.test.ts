import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  MAD_TO_SIGMA,
  median,
  medianAbsoluteDeviation,
  medianOfEach,
  nthSmallestInPlace,
} from '../../../src/core/numeric/median.js';
import { normalQuantile } from '../../../src/core/numeric/distributions/normal-quantile.js';
import { seededRandom } from '../../support/seeded-random.js';

describe('median', () => {
  it.each([
    [[3], 3],
    [[1, 2], 1.5],
    [[5, 1, 3], 3],
    [[4, 1, 3, 2], 2.5],
    [[7, 7, 7, 7], 7],
    [[-0.5, 10, -3, 2, 2], 2],
  ])('of %j is %f', (values, expected) => {
    expect(median(values)).toBe(expected);
  });

  it('agrees with sorting, and leaves the values as they were', () => {
    fc.assert(
      fc.property(
        fc.array(fc.oneof(fc.integer({ min: -5, max: 5 }), fc.double({ min: -1e6, max: 1e6, noNaN: true })), {
          minLength: 1,
          maxLength: 60,
        }),
        (values) => {
          const before = [...values];
          const sorted = Float64Array.from(values).sort();
          const half = sorted.length >> 1;
          const low = sorted[sorted.length % 2 === 1 ? half : half - 1] as number;
          const high = sorted[half] as number;
          expect(median(values) + 0).toBe(low + (high - low) / 2 + 0);
          expect(medianOfEach(values.length, (place) => values[place] as number)).toBe(median(values));
          expect(values).toEqual(before);
        },
      ),
      { numRuns: 2000, seed: 1 },
    );
  });

  it('finds the middle of many values that are sorted, reversed or all alike', () => {
    const rising = Float64Array.from({ length: 100001 }, (_, i) => i);
    expect(median(rising)).toBe(50000);
    expect(median(rising.slice().reverse())).toBe(50000);
    expect(median(new Float64Array(100000).fill(2.5))).toBe(2.5);
  });

  it('is not known where one value is not', () => {
    expect(medianOfEach(3, (place) => (place === 1 ? null : place))).toBeNull();
  });

  it('refuses no values', () => {
    expect(() => medianOfEach(0, () => 0)).toThrow('no values');
    expect(() => median([])).toThrow('no values');
    expect(() => medianAbsoluteDeviation([], 0)).toThrow('no values');
  });
});

describe('medianAbsoluteDeviation', () => {
  it('is not moved by a wild value', () => {
    expect(medianAbsoluteDeviation([1, 2, 3, 4, 1000])).toBe(1);
  });

  it('measures from the centre given', () => {
    expect(medianAbsoluteDeviation([1, 2, 3], 0)).toBe(2);
  });

  it('scaled, estimates the standard deviation of normal errors', () => {
    expect(MAD_TO_SIGMA).toBeCloseTo(1 / normalQuantile(0.75), 14);
    const random = seededRandom(3);
    const errors = Float64Array.from({ length: 40000 }, () => 0.02 * random.normal());
    expect(MAD_TO_SIGMA * medianAbsoluteDeviation(errors)).toBeCloseTo(0.02, 3);
  });
});

describe('nthSmallestInPlace', () => {
  it('agrees with sorting at every rank', () => {
    const value = fc.oneof(fc.integer({ min: -5, max: 5 }), fc.double({ min: -1e6, max: 1e6, noNaN: true }));
    fc.assert(
      fc.property(fc.array(value, { minLength: 1, maxLength: 60 }), (values) => {
        const sorted = Float64Array.from(values).sort();
        sorted.forEach((expected, rank) => {
          expect(nthSmallestInPlace(Float64Array.from(values), rank) + 0).toBe(expected + 0);
        });
      }),
    );
  });
});
