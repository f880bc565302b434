import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { robustAverage } from '../../../src/core/observation/robust-average.js';
import { withoutOutliers } from '../../../src/core/observation/without-outliers.js';

describe('robustAverage', () => {
  it('is the plain mean of one epoch and of two', () => {
    const one = robustAverage([0.3], [0.2], [0.1]);
    expect([one.eastM, one.northM, one.upM]).toEqual([0.3, 0.2, 0.1]);
    expect(one.usedCount).toBe(1);
    const two = robustAverage([0, 10], [0, -0.02], [1, 1]);
    expect([two.eastM, two.northM, two.upM]).toEqual([5, -0.01, 1]);
    expect(two.outlierCount).toBe(0);
  });

  it('screens out an epoch that is wild on one axis only, and gives it no weight on any', () => {
    const east = [0.001, 0.002, 0.0, 0.001, 0.002, 0.001, 0.0, 0.002, 0.001, 0.001, 0.001];
    const north = east.map((value, i) => (i === 4 ? 0.4 : value));
    const result = robustAverage(east, north, east);
    expect(Array.from(result.outlier)).toEqual([0, 0, 0, 0, 1, 0, 0, 0, 0, 0, 0]);
    expect(result.weightsUp[4]).toBe(0);
    expect(result.usedCount).toBe(10);
    expect(result.tooManyOutliers).toBe(false);
    expect(result.northM).toBeLessThan(0.002);
    expect(Array.from(withoutOutliers(Float64Array.from(north), result))).not.toContain(0.4);
  });

  it('does not call a scatter below a millimetre an outlier', () => {
    const still = [0, 0, 0, 0, 0.003];
    expect(robustAverage(still, still, still).outlierCount).toBe(0);
    const beyond = [0, 0, 0, 0, 0.0036];
    expect(robustAverage(beyond, beyond, beyond).outlierCount).toBe(1);
  });

  it('says when more than a tenth is screened out, but not of one epoch alone', () => {
    const make = (wild: number): readonly number[] => Array.from({ length: 10 }, (_, i) => (i < wild ? 1 + i : 0));
    expect(robustAverage(make(1), make(1), make(1)).tooManyOutliers).toBe(false);
    const two = robustAverage(make(2), make(2), make(2));
    expect(two.tooManyOutliers).toBe(true);
    const values = Float64Array.from(make(2));
    expect(withoutOutliers(values, two)).toBe(values);
  });

  it('keeps all epochs for the average where each is wild on some axis', () => {
    const result = robustAverage([1, 0, 0], [0, 1, 0], [0, 0, 1]);
    expect(result.usedCount).toBe(0);
    expect(result.tooManyOutliers).toBe(true);
    expect(Number.isFinite(result.eastM)).toBe(true);
    expect(Math.min(...result.weightsEast)).toBeGreaterThan(0);
  });

  it('follows a shift of all epochs and does not care for their order', () => {
    fc.assert(
      fc.property(
        fc.array(fc.double({ min: -0.05, max: 0.05, noNaN: true }), { minLength: 1, maxLength: 40 }),
        fc.double({ min: -5, max: 5, noNaN: true }),
        (values, shift) => {
          const plain = robustAverage(values, values, values);
          const moved = values.map((value) => value + shift).reverse();
          const other = robustAverage(moved, moved, moved);
          // A value on the very edge of the screen may fall either way by rounding.
          fc.pre(other.outlierCount === plain.outlierCount);
          expect(Math.abs(other.eastM - plain.eastM - shift)).toBeLessThan(1e-6);
          const kept = values.filter((_, i) => plain.outlier[i] === 0 || plain.usedCount === 0);
          expect(plain.eastM).toBeGreaterThanOrEqual(Math.min(...kept) - 1e-9);
          expect(plain.eastM).toBeLessThanOrEqual(Math.max(...kept) + 1e-9);
        },
      ),
    );
  });

  it('refuses no epochs', () => {
    expect(() => robustAverage([], [], [])).toThrow('epochs to average');
  });
});
