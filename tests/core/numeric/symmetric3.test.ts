import { describe, expect, it } from 'vitest';
import type { Symmetric3 } from '../../../src/core/numeric/symmetric3.js';
import { congruence3, inverse3, quadraticForm3 } from '../../../src/core/numeric/symmetric3.js';
import { seededRandom } from '../../support/seeded-random.js';

function rowsOf(m: Symmetric3): readonly (readonly number[])[] {
  return [
    [m.xx, m.xy, m.xz],
    [m.xy, m.yy, m.yz],
    [m.xz, m.yz, m.zz],
  ];
}

/** The matrix product, from its definition. */
function product(a: readonly (readonly number[])[], b: readonly (readonly number[])[]): number[][] {
  return a.map((row) => b.map((_, j) => row.reduce((sum, value, k) => sum + value * (b[k]?.[j] ?? NaN), 0)));
}

describe('3 by 3', () => {
  const c: Symmetric3 = { xx: 4, xy: 1, xz: -0.5, yy: 3, yz: 0.25, zz: 2 };

  it('inverse3 times the matrix is the unit matrix', () => {
    const i = inverse3(c);
    expect(i).not.toBeNull();
    if (i === null) return;
    expect(c.xx * i.xx + c.xy * i.xy + c.xz * i.xz).toBeCloseTo(1, 14);
    expect(c.xy * i.xx + c.yy * i.xy + c.yz * i.xz).toBeCloseTo(0, 14);
    expect(c.xy * i.xy + c.yy * i.yy + c.yz * i.yz).toBeCloseTo(1, 14);
    expect(c.xz * i.xy + c.yz * i.yy + c.zz * i.yz).toBeCloseTo(0, 14);
    expect(c.xz * i.xz + c.yz * i.yz + c.zz * i.zz).toBeCloseTo(1, 14);
    expect(quadraticForm3(c, 1, 0, 0)).toBeCloseTo(i.xx, 15);
  });

  it('gives null where the matrix is singular', () => {
    expect(inverse3({ xx: 1, xy: 2, xz: 3, yy: 4, yz: 6, zz: 9 })).toBeNull();
    expect(quadraticForm3({ xx: 0, xy: 0, xz: 0, yy: 0, yz: 0, zz: 0 }, 1, 1, 1)).toBeNull();
  });

  it('congruence3 by a turn about z exchanges the axes', () => {
    const turn = { xx: 0, xy: -1, xz: 0, yx: 1, yy: 0, yz: 0, zx: 0, zy: 0, zz: 1 };
    expect(congruence3(turn, c)).toEqual({ xx: 3, xy: -1, xz: -0.25, yy: 4, yz: -0.5, zz: 2 });
  });
});

describe('3 by 3 with nine different numbers', () => {
  const a = { xx: 2, xy: 3, xz: 5, yx: 7, yy: 11, yz: 13, zx: 17, zy: 19, zz: 23 };
  const c: Symmetric3 = { xx: 31, xy: -4, xz: 6, yy: 37, yz: -8, zz: 41 };

  it('congruence3 is the product of the three matrices by its definition', () => {
    const left = [
      [a.xx, a.xy, a.xz],
      [a.yx, a.yy, a.yz],
      [a.zx, a.zy, a.zz],
    ];
    const right = left.map((_, i) => left.map((row) => row[i] ?? NaN));
    expect(rowsOf(congruence3(a, c))).toEqual(product(product(left, rowsOf(c)), right));
  });

  it('inverse3 times the matrix is the unit matrix in all nine terms, at any scale', () => {
    for (const scale of [1e-12, 1e-6, 1, 1e6]) {
      const scaled = { xx: 31 * scale, xy: -4 * scale, xz: 6 * scale, yy: 37 * scale, yz: -8 * scale, zz: 41 * scale };
      const inverse = inverse3(scaled);
      expect(inverse).not.toBeNull();
      if (inverse === null) return;
      product(rowsOf(scaled), rowsOf(inverse)).forEach((row, i) => {
        row.forEach((value, j) => {
          expect(value).toBeCloseTo(i === j ? 1 : 0, 14);
        });
      });
    }
  });

  it('quadraticForm3 is the double sum over the inverse', () => {
    const v = [3, -5, 7];
    const inverse = inverse3(c);
    expect(inverse).not.toBeNull();
    if (inverse === null) return;
    const sum = rowsOf(inverse).flatMap((row, i) => row.map((value, j) => (v[i] ?? NaN) * value * (v[j] ?? NaN)));
    expect(quadraticForm3(c, 3, -5, 7)).toBeCloseTo(
      sum.reduce((total, value) => total + value, 0),
      14,
    );
  });

  it('inverse3 takes none that is singular but for rounding', () => {
    const random = seededRandom(21);
    for (let i = 0; i < 3000; i += 1) {
      const [p, q, r, s, t, u] = Array.from({ length: 6 }, () => random.normal()) as [
        number,
        number,
        number,
        number,
        number,
        number,
      ];
      // Of two columns only, so of rank 2.
      const m = {
        xx: p * p + s * s,
        xy: p * q + s * t,
        xz: p * r + s * u,
        yy: q * q + t * t,
        yz: q * r + t * u,
        zz: r * r + u * u,
      };
      expect(inverse3(m)).toBeNull();
    }
  });
});
