import { describe, expect, it } from 'vitest';
import { QUICK_DECIMALS, powerOfTen, roundToUnits } from '../../../../src/core/numeric/text/round-to-units.js';

describe('roundToUnits', () => {
  it.each([
    [0, 0, 0],
    [0, 9, 0],
    [1.234, 2, 123],
    [1.236, 2, 124],
    [0.4999, 0, 0],
    [0.5001, 0, 1],
    [3487000.1254, 3, 3487000125],
    [3487000.1256, 3, 3487000126],
    [999999.99951, 3, 1000000000],
    [2147483646, 0, 2147483646],
    [999999.25, 9, 999999250000000],
  ])('counts %f to %i decimals as %i', (size, decimals, units) => {
    expect(roundToUnits(size, decimals)).toBe(units);
  });

  it('leaves a tie, and what a double cannot tell from one, to the printed digits', () => {
    for (const size of [0.5, 1.5, 2.5, 4096.5]) {
      expect(roundToUnits(size, 0)).toBe(-1);
      expect(roundToUnits(size * (1 + Number.EPSILON), 0)).toBe(-1);
      expect(roundToUnits(size * (1 - Number.EPSILON / 2), 0)).toBe(-1);
    }
    for (const size of [1.005, 0.045, 25.435]) expect(roundToUnits(size, 2)).toBe(-1);
  });

  it('decides as soon as the distance from a tie is more than the doubt', () => {
    expect(roundToUnits(1.5 * (1 + 4 * Number.EPSILON), 0)).toBe(2);
    expect(roundToUnits(1.5 * (1 - 4 * Number.EPSILON), 0)).toBe(1);
  });

  it('gives no answer from the sizes on for which it was not made, and for what is no number', () => {
    expect(roundToUnits(2147483647, 0)).toBe(-1);
    expect(roundToUnits(2147483647.25, 2)).toBe(-1);
    expect(roundToUnits(1e6, 9)).toBe(-1);
    expect(roundToUnits(1e6 + 1 / 64, 9)).toBe(-1);
    for (const size of [NaN, Infinity]) expect(roundToUnits(size, 3)).toBe(-1);
  });

  it('has every power of ten up to its decimals', () => {
    for (let n = 0; n <= QUICK_DECIMALS; n += 1) expect(powerOfTen(n)).toBe(Number(`1e${String(n)}`));
  });
});
