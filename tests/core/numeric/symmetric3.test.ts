import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { Symmetric3 } from '../../../src/core/numeric/symmetric3.js';
import { congruence3, eigen3, inverse3, quadraticForm3 } from '../../../src/core/numeric/symmetric3.js';

const term = fc.double({ min: -10, max: 10, noNaN: true });

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

  it('eigen3 rebuilds the matrix from its axes, largest first', () => {
    fc.assert(fc.property(term, term, term, term, term, term, (xx, xy, xz, yy, yz, zz) => {
      const axes = eigen3({ xx, xy, xz, yy, yz, zz });
      const sum = (f: (a: (typeof axes)[number]) => number): number => axes.reduce((total, a) => total + a.value * f(a), 0);
      expect(sum((a) => a.x * a.x)).toBeCloseTo(xx, 11);
      expect(sum((a) => a.x * a.y)).toBeCloseTo(xy, 11);
      expect(sum((a) => a.x * a.z)).toBeCloseTo(xz, 11);
      expect(sum((a) => a.y * a.y)).toBeCloseTo(yy, 11);
      expect(sum((a) => a.y * a.z)).toBeCloseTo(yz, 11);
      expect(sum((a) => a.z * a.z)).toBeCloseTo(zz, 11);
      expect(axes[0].value).toBeGreaterThanOrEqual(axes[1].value);
      expect(axes[1].value).toBeGreaterThanOrEqual(axes[2].value);
    }), { seed: 2 });
  });

  it('congruence3 by a turn about z exchanges the axes', () => {
    const turn = { xx: 0, xy: -1, xz: 0, yx: 1, yy: 0, yz: 0, zx: 0, zy: 0, zz: 1 };
    expect(congruence3(turn, c)).toEqual({ xx: 3, xy: -1, xz: -0.25, yy: 4, yz: -0.5, zz: 2 });
  });
});
