import { describe, expect, it } from 'vitest';
import { inversionTail } from '../../../../src/core/quality/register/kendall-tail.js';
import { theilSenInterval } from '../../../../src/core/quality/register/theil-sen-interval.js';

describe('the tail of the number of inversions', () => {
  it.each([
    // Orders of n values by their inversions (MacMahon's numbers, textbook), over n!.
    [1, [1]],
    [2, [1, 1]],
    [3, [1, 2, 2, 1]],
    [4, [1, 3, 5, 6, 5, 3, 1]],
    [5, [1, 4, 9, 15, 20, 22, 20, 15, 9, 4, 1]],
  ])('of %d values adds up their orders', (n, counts) => {
    const all = counts.reduce((a, b) => a + b, 0);
    let sum = 0;
    expect([...inversionTail(n)]).toEqual(
      counts.map((count) => {
        sum += count;
        return expect.closeTo(sum / all, 14) as unknown;
      }),
    );
  });

  it.each([40, 100, 150])('of %d values has the mean and the variance of Kendall’s S, and never falls', (n) => {
    const tail = inversionTail(n);
    expect(tail).toHaveLength((n * (n - 1)) / 2 + 1);
    expect(tail[0]).toBeLessThan(1e-18);
    expect(tail.at(-1)).toBeCloseTo(1, 12);
    let [mean, square, before] = [0, 0, 0];
    tail.forEach((chance, m) => {
      expect(chance).toBeGreaterThanOrEqual(before);
      mean += (chance - before) * m;
      square += (chance - before) * m * m;
      before = chance;
    });
    // n(n − 1)/4 and n(n − 1)(2n + 5)/72 (textbook).
    expect(mean / ((n * (n - 1)) / 4)).toBeCloseTo(1, 12);
    expect((square - mean * mean) / ((n * (n - 1) * (2 * n + 5)) / 72)).toBeCloseTo(1, 8);
    // By symmetry half of the orders have fewer than the mean.
    const middle = Math.floor((n * (n - 1)) / 4);
    const below = tail[middle - 1] ?? NaN;
    expect(below + (tail[middle] ?? NaN)).toBeCloseTo(((n * (n - 1)) / 4) % 1 === 0 ? 1 : below + 0.5, 10);
  });
});

describe('the interval of a slope', () => {
  it('is none of fewer than two values, of unequal lists or of times that repeat', () => {
    expect(theilSenInterval([1], [1], 0.9)).toBeNull();
    expect(theilSenInterval([1, 2], [1], 0.9)).toBeNull();
    expect(theilSenInterval([1, 1], [1, 2], 0.9)).toBeNull();
    expect(theilSenInterval([1, 2], [1, 3], 0.9)?.slope).toBe(2);
    expect(theilSenInterval([2, 1], [3, 1], 0.9)?.slope).toBe(2);
    const many = Array.from({ length: 2001 }, (_, i) => i);
    expect(theilSenInterval(many, many, 0.9)).toBeNull();
  });
});
