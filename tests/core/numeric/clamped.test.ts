import { describe, expect, it } from 'vitest';
import { clampedAsin, clampedSqrt } from '../../../src/core/numeric/clamped.js';

describe('clamped functions', () => {
  it('forgive a rounding error beyond the end, where the plain ones give NaN', () => {
    const beyond = 1 + Number.EPSILON;
    expect(Math.asin(beyond)).toBeNaN();
    expect(clampedAsin(beyond)).toBe(Math.PI / 2);
    expect(clampedAsin(-beyond)).toBe(-Math.PI / 2);
    expect(clampedSqrt(-1e-20)).toBe(0);
  });

  it('are the plain functions inside', () => {
    expect(clampedAsin(0.3)).toBe(Math.asin(0.3));
    expect(clampedSqrt(2)).toBe(Math.SQRT2);
  });

  it('do not hide a number that is none', () => {
    expect(clampedAsin(NaN)).toBeNaN();
    expect(clampedSqrt(NaN)).toBeNaN();
  });
});
