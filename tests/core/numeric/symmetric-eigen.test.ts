import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { eigenInPlace } from '../../../src/core/numeric/symmetric-eigen.js';

const sizes = fc.integer({ min: 1, max: 4 });
const numbers = fc.array(fc.double({ min: -10, max: 10, noNaN: true }), { minLength: 16, maxLength: 16 });

describe('eigenInPlace', () => {
  it('gives values that rise and unit vectors that the matrix stretches by them', () => {
    fc.assert(
      fc.property(sizes, numbers, (n, drawn) => {
        const matrix = Float64Array.from({ length: n * n }, (_, at) => {
          const [r, c] = [Math.floor(at / n), at % n];
          return drawn[Math.min(r, c) * 4 + Math.max(r, c)]!;
        });
        const values = matrix.slice();
        const vectors = new Float64Array(n * n);
        eigenInPlace(values, vectors, n);
        for (let k = 0; k < n; k += 1) {
          const value = values[k * n + k]!;
          if (k > 0) expect(value).toBeGreaterThanOrEqual(values[(k - 1) * n + k - 1]!);
          let square = 0;
          for (let r = 0; r < n; r += 1) {
            let stretched = 0;
            for (let c = 0; c < n; c += 1) stretched += matrix[r * n + c]! * vectors[c * n + k]!;
            expect(Math.abs(stretched - value * vectors[r * n + k]!)).toBeLessThan(1e-12);
            square += vectors[r * n + k]! ** 2;
          }
          expect(square).toBeCloseTo(1, 12);
        }
      }),
    );
  });

  it('leaves a diagonal in rising order, with the axes', () => {
    const matrix = Float64Array.from([3, 0, 0, 0, 1, 0, 0, 0, 2]);
    const vectors = new Float64Array(9);
    eigenInPlace(matrix, vectors, 3);
    expect([matrix[0], matrix[4], matrix[8]]).toEqual([1, 2, 3]);
    expect([...vectors]).toEqual([0, 0, 1, 1, 0, 0, 0, 1, 0]);
  });
});
