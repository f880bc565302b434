import { describe, expect, it } from 'vitest';
import { incompleteGamma } from '../../../../src/core/numeric/distributions/incomplete-gamma.js';

describe('incompleteGamma', () => {
  it('with a = 1 is the exponential distribution, in both tails', () => {
    for (const x of [1e-6, 0.5, 1.9, 2.1, 30, 500]) {
      const found = incompleteGamma(1, x);
      expect(found.lower / -Math.expm1(-x)).toBeCloseTo(1, 14);
      expect(found.upper / Math.exp(-x)).toBeCloseTo(1, 12);
      expect(found.slope / (x * Math.exp(-x))).toBeCloseTo(1, 12);
    }
  });

  it('with a whole a is a sum of Poisson terms', () => {
    for (const x of [2, 10, 25]) {
      let term = Math.exp(-x);
      let sum = 0;
      for (let k = 0; k < 10; k += 1) {
        sum += term;
        term *= x / (k + 1);
      }
      expect(incompleteGamma(10, x).upper).toBeCloseTo(sum, 14);
    }
  });

  it('has tails that make one, also for a large a', () => {
    for (const a of [0.5, 3, 500, 50000]) {
      const found = incompleteGamma(a, a);
      expect(found.lower + found.upper).toBeCloseTo(1, 15);
      // Near its mean the distribution is nearly normal, a little to the right: 1/2 + 1/(3 sqrt(2 pi a)).
      if (a >= 500) expect(found.lower).toBeCloseTo(0.5 + 1 / (3 * Math.sqrt(2 * Math.PI * a)), 5);
    }
  });

  it('is nothing at 0', () => {
    expect(incompleteGamma(2, 0)).toEqual({ lower: 0, upper: 1, slope: 0 });
  });
});
