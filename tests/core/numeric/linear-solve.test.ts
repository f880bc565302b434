import { describe, expect, it } from 'vitest';
import { choleskyFactor, choleskyInverse, choleskySolve } from '../../../src/core/numeric/linear-solve.js';
import { seededRandom } from '../../support/seeded-random.js';

/** x with C x = b; null where C has no factor. */
function solved(matrix: Float64Array, n: number, rightSide: readonly number[]): Float64Array | null {
  const factor = choleskyFactor(matrix, n);
  return factor === null ? null : choleskySolve(factor, n, rightSide);
}

describe('a symmetric matrix by its Cholesky factor', () => {
  it('solves a Hilbert matrix of 6, ill-conditioned as it is, to eight digits', () => {
    const n = 6;
    const hilbert = Float64Array.from({ length: n * n }, (_, k) => 1 / (Math.floor(k / n) + (k % n) + 1));
    const right = Array.from({ length: n }, (_, i) => hilbert.slice(i * n, i * n + n).reduce((sum, v) => sum + v, 0));
    const x = solved(hilbert, n, right);
    expect(x).not.toBeNull();
    x?.forEach((value) => {
      expect(value).toBeCloseTo(1, 8);
    });
  });

  it('inverts random normal matrices', () => {
    const random = seededRandom(8);
    for (let n = 1; n <= 12; n += 1) {
      const design = Array.from({ length: n + 4 }, () => Array.from({ length: n }, () => random.normal()));
      const normal = new Float64Array(n * n);
      for (const row of design) {
        for (let i = 0; i < n; i += 1) {
          for (let j = 0; j < n; j += 1) normal[i * n + j] = (normal[i * n + j] ?? 0) + (row[i] ?? 0) * (row[j] ?? 0);
        }
      }
      const factor = choleskyFactor(normal, n);
      expect(factor).not.toBeNull();
      if (factor === null) return;
      const inverse = choleskyInverse(factor, n);
      for (let i = 0; i < n; i += 1) {
        for (let j = 0; j < n; j += 1) {
          let sum = 0;
          for (let k = 0; k < n; k += 1) sum += (normal[i * n + k] ?? NaN) * (inverse[k * n + j] ?? NaN);
          expect(sum).toBeCloseTo(i === j ? 1 : 0, 9);
          expect(inverse[i * n + j]).toBe(inverse[j * n + i]);
        }
      }
    }
  });

  it('gives null for what is not positive definite', () => {
    expect(solved(Float64Array.of(1, 2, 2, 4), 2, [1, 1])).toBeNull();
    expect(solved(Float64Array.of(1, 2, 2, 1), 2, [1, 1])).toBeNull();
    expect(solved(Float64Array.of(NaN), 1, [1])).toBeNull();
  });

  it('solves in any unit: covariances of square millimetres as well as of square kilometres', () => {
    for (const scale of [1e-18, 1e-6, 1e12]) {
      // 4x + y = 6, x + 3y = 7 has the solution (1, 2).
      const x = solved(Float64Array.of(4 * scale, scale, scale, 3 * scale), 2, [6 * scale, 7 * scale]);
      expect(x?.[0]).toBeCloseTo(1, 14);
      expect(x?.[1]).toBeCloseTo(2, 14);
    }
  });

  it('gives null for what is singular but for rounding', () => {
    const random = seededRandom(31);
    for (let i = 0; i < 3000; i += 1) {
      const n = 2 + random.index(4);
      const v = Array.from({ length: n }, () => random.normal());
      // The same column twice or more: rank 1.
      const matrix = Float64Array.from({ length: n * n }, (_, k) => (v[Math.floor(k / n)] ?? NaN) * (v[k % n] ?? NaN));
      expect(choleskyFactor(matrix, n)).toBeNull();
    }
  });

  it('gives null for a diagonal that is nothing, negative or without end', () => {
    for (const value of [0, -1, -Infinity, Infinity, NaN]) {
      expect(choleskyFactor(Float64Array.of(value), 1)).toBeNull();
      expect(choleskyFactor(Float64Array.of(2, 0, 0, value), 2)).toBeNull();
    }
  });
});
