import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Symmetric2 } from '../../../src/core/numeric/symmetric2.js';
import { eigen2, inverse2, quadraticForm2 } from '../../../src/core/numeric/symmetric2.js';

const term = fc.double({ min: -10, max: 10, noNaN: true });

describe('eigen2', () => {
  it('finds the axes of an ellipse turned by a known angle', () => {
    for (const angle of [-1.5, -0.7, 0, 0.3, 1.2]) {
      const c = Math.cos(angle);
      const s = Math.sin(angle);
      const found = eigen2({ xx: 9 * c * c + 4 * s * s, xy: (9 - 4) * s * c, yy: 9 * s * s + 4 * c * c });
      expect(found.larger).toBeCloseTo(9, 13);
      expect(found.smaller).toBeCloseTo(4, 13);
      expect(found.angleRad).toBeCloseTo(angle, 13);
    }
  });

  it('keeps trace and determinant', () => {
    fc.assert(
      fc.property(term, term, term, (xx, xy, yy) => {
        const found = eigen2({ xx, xy, yy });
        expect(found.larger + found.smaller).toBeCloseTo(xx + yy, 12);
        expect(found.larger * found.smaller).toBeCloseTo(xx * yy - xy * xy, 11);
        expect(found.larger).toBeGreaterThanOrEqual(found.smaller);
      }),
      { seed: 1 },
    );
  });

  it('prefers no direction in a circle', () => {
    expect(eigen2({ xx: 2, xy: 0, yy: 2 })).toEqual({ larger: 2, smaller: 2, angleRad: 0 });
    expect(eigen2({ xx: -0, xy: 0, yy: 0 }).angleRad).toBe(0);
  });
});

describe('inverse2 and quadraticForm2', () => {
  const c: Symmetric2 = { xx: 4, xy: 1, yy: 3 };

  it('gives the hand-computed inverse and form', () => {
    // Determinant 11: the inverse is (3, -1, 4) / 11 by Cramer's rule.
    expect(inverse2(c)).toEqual({ xx: 3 / 11, xy: -1 / 11, yy: 4 / 11 });
    expect(quadraticForm2(c, 1, 2)).toBeCloseTo((3 - 4 + 16) / 11, 14);
  });

  it('gives null where the matrix is singular', () => {
    expect(inverse2({ xx: 1e-6, xy: 2e-6, yy: 4e-6 })).toBeNull();
    expect(quadraticForm2({ xx: 0, xy: 0, yy: 1 }, 1, 1)).toBeNull();
  });

  it('takes covariances as small as millimetres squared', () => {
    expect(quadraticForm2({ xx: 1e-8, xy: 0, yy: 1e-8 }, 3e-4, 4e-4)).toBeCloseTo(25, 10);
  });

  it('gives the hand-computed form with three components all different', () => {
    // (3·9 − 2·3·5 + 4·25) / 11.
    expect(quadraticForm2(c, 3, 5)).toBeCloseTo((27 - 30 + 100) / 11, 14);
  });

  it('takes none that is singular but for rounding', () => {
    for (let i = 1; i <= 3000; i += 1) {
      const [x, y] = [Math.sqrt(i), Math.cbrt(7 * i + 1)];
      expect(inverse2({ xx: x * x, xy: x * y, yy: y * y })).toBeNull();
    }
  });
});
