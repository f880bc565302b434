import { describe, expect, it } from 'vitest';
import { commonOffset } from '../../../src/core/quality/common-offset.js';

const at = (eastM: number, northM: number, upM: number) => ({ eastM, northM, upM });
const WEST = [at(-0.2, 0.01, 0.02), at(-0.21, -0.01, 0), at(-0.19, 0, -0.02), at(-0.2, 0.02, 0.01)];

describe('the vector that most differences have in common', () => {
  it('is the median of each component, with how many are it', () => {
    expect(commonOffset([...WEST, at(0.5, 0.3, 0)])).toEqual({ offset: at(-0.2, 0.01, 0), count: 4, of: 5 });
  });

  it('is none of fewer than four, or where fewer than two thirds are alike', () => {
    expect(commonOffset(WEST.slice(0, 3))).toBeNull();
    expect(commonOffset([...WEST, at(0.5, 0, 0), at(0, 0.5, 0)])?.count).toBe(4);
    expect(commonOffset([...WEST, at(0.5, 0, 0), at(0, 0.5, 0), at(0, 0, 0.5)])).toBeNull();
    // A fifth that is alike too, and with it two thirds of seven.
    expect(commonOffset([...WEST, WEST[0] as never, at(0, 0.5, 0), at(0, 0, 0.5)])?.count).toBe(5);
  });

  it('has those within a quarter of its length, three centimetres at least', () => {
    const far = [at(-4, 0, 0), at(-4, 0, 0), at(-4, 0, 0), at(-4, 0, 0), at(-3.01, 0, 0), at(-2.99, 0, 0)];
    expect(commonOffset(far)?.count).toBe(5);
    const near = [at(0, 0, 0.07), at(0, 0, 0.07), at(0, 0, 0.07), at(0, 0.029, 0.07), at(0, 0.031, 0.07)];
    expect(commonOffset(near)?.count).toBe(4);
  });

  it('is none where differences scatter about nothing, as those of separate slips do', () => {
    const ring = Array.from({ length: 12 }, (_, i) => at(0.3 * Math.cos(i), 0.3 * Math.sin(i), 0));
    expect(commonOffset(ring)).toBeNull();
    expect(commonOffset([at(0.059, 0, 0), at(0.059, 0, 0), at(0.059, 0, 0), at(0.059, 0, 0)])).toBeNull();
    expect(commonOffset([at(0.061, 0, 0), at(0.061, 0, 0), at(0.061, 0, 0), at(0.061, 0, 0)])?.count).toBe(4);
  });
});
