import { describe, expect, it } from 'vitest';
import { logOnePlusMinus, stirlingError } from '../../../../src/core/numeric/distributions/stirling.js';

describe('stirlingError', () => {
  it('is what the factorials say', () => {
    let logFactorial = 0;
    for (let n = 1; n <= 25; n += 1) {
      logFactorial += Math.log(n);
      const formula = 0.5 * Math.log(2 * Math.PI * n) + n * Math.log(n) - n;
      expect(stirlingError(n)).toBeCloseTo(logFactorial - formula, 13);
    }
  });

  it('knows the gamma function of a half, the root of pi', () => {
    // Gamma(3/2) = half the root of pi.
    const formula = 0.5 * Math.log(Math.PI) + 0.5 * Math.log(0.5) - 0.5;
    expect(stirlingError(0.5)).toBeCloseTo(Math.log(Math.sqrt(Math.PI) / 2) - formula, 15);
  });

  it('is the same by the series and by the steps where they meet', () => {
    expect(stirlingError(16 - 1e-9)).toBeCloseTo(stirlingError(16), 11);
  });
});

describe('logOnePlusMinus', () => {
  it('is the plain difference where that keeps its digits', () => {
    for (const u of [-0.9, -0.49, 0.4, 0.99, 1.01, 20]) expect(logOnePlusMinus(u)).toBeCloseTo(Math.log1p(u) - u, 14);
  });

  it('is minus half the square near 0, where the plain difference has none left', () => {
    expect(logOnePlusMinus(1e-10) / -5e-21).toBeCloseTo(1, 9);
    expect(logOnePlusMinus(0)).toBeCloseTo(0, 300);
  });
});
