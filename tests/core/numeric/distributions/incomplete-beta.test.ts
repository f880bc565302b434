import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { incompleteBeta } from '../../../../src/core/numeric/distributions/incomplete-beta.js';

describe('incompleteBeta', () => {
  it('with b = 1 is a power, and with a = 1 the complement of one', () => {
    for (const a of [0.5, 1, 7.5, 200]) {
      for (const x of [0.05, 0.3, 0.5, 0.95]) {
        expect(incompleteBeta(a, 1, x, 1 - x).lower / x ** a).toBeCloseTo(1, 12);
        expect(incompleteBeta(1, a, x, 1 - x).upper / (1 - x) ** a).toBeCloseTo(1, 12);
      }
    }
  });

  it('with two halves is the arc sine law', () => {
    for (const x of [0.01, 0.4, 0.9]) {
      expect(incompleteBeta(0.5, 0.5, x, 1 - x).lower).toBeCloseTo((2 / Math.PI) * Math.asin(Math.sqrt(x)), 14);
    }
  });

  it('exchanges its tails with its parameters', () => {
    const parameter = fc.double({ min: 0.5, max: 300, noNaN: true });
    fc.assert(
      fc.property(parameter, parameter, fc.double({ min: 0, max: 1, noNaN: true }), (a, b, x) => {
        const one = incompleteBeta(a, b, x, 1 - x);
        const other = incompleteBeta(b, a, 1 - x, x);
        expect(one.lower).toBeCloseTo(other.upper, 12);
        expect(one.lower + one.upper).toBeCloseTo(1, 15);
      }),
      { seed: 1 },
    );
  });

  it('is nothing at one end and all at the other', () => {
    expect(incompleteBeta(2, 3, 0, 1)).toEqual({ lower: 0, upper: 1, slope: 0 });
    expect(incompleteBeta(2, 3, -0.25, 1.25)).toEqual({ lower: 0, upper: 1, slope: 0 });
    expect(incompleteBeta(2, 3, 1.25, -0.25)).toEqual({ lower: 1, upper: 0, slope: 0 });
    expect(incompleteBeta(2, 3, 1, 0)).toEqual({ lower: 1, upper: 0, slope: 0 });
  });
});
