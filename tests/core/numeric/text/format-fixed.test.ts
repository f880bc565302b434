import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDecimal } from '../../../../src/core/numeric/text/decimal-text.js';
import { formatFixed, formatFixedFromText } from '../../../../src/core/numeric/text/format-fixed.js';
import { seededRandom } from '../../../support/seeded-random.js';

/** Rounds the printed decimal with whole numbers of any length: an answer that shares no code with ours. */
function byWholeNumbers(value: number, decimals: number): string {
  const match = /^(-?)(\d+)(?:\.(\d+))?(?:e([+-]\d+))?$/.exec(String(value));
  if (match === null) throw new Error(String(value));
  const [, sign = '', whole = '', part = '', exponent = '0'] = match;
  // value = mantissa / 10^scale, scale ≥ 0.
  let mantissa = BigInt(whole + part);
  let scale = part.length - Number(exponent);
  if (scale < 0) {
    mantissa *= 10n ** BigInt(-scale);
    scale = 0;
  }
  const unit = 10n ** BigInt(scale);
  const scaled = mantissa * 10n ** BigInt(decimals);
  const rounded = (2n * scaled + unit) / (2n * unit);
  const digits = rounded.toString().padStart(decimals + 1, '0');
  const text = decimals === 0 ? digits : `${digits.slice(0, -decimals)}.${digits.slice(-decimals)}`;
  return (rounded === 0n ? '' : sign) + text;
}

describe('formatFixed', () => {
  it.each([
    [1.005, 2, '1.01'],
    [-1.005, 2, '-1.01'],
    [2.5, 0, '3'],
    [999999, 0, '999999'],
    [1000000, 0, '1000000'],
    [1000007, 0, '1000007'],
    [999999999, 0, '999999999'],
    [1000000000, 0, '1000000000'],
    [-1000000.25, 1, '-1000000.3'],
    [12.000345678, 9, '12.000345678'],
    [12.100000008, 9, '12.100000008'],
    [59.99999, 4, '60.0000'],
    [0.0000004, 7, '0.0000004'],
    [-2.5, 0, '-3'],
    [0.5, 0, '1'],
    [-0.0001, 2, '0.00'],
    [-0, 3, '0.000'],
    [-0.0005, 3, '-0.001'],
    [0.00049999, 3, '0.000'],
    [9.9999, 3, '10.000'],
    [999999.99995, 4, '1000000.0000'],
    [3.3000000000000003, 4, '3.3000'],
    [1e21, 2, '1000000000000000000000.00'],
    [1.5e-7, 8, '0.00000015'],
    [5e-324, 4, '0.0000'],
    [123456789012345680, 1, '123456789012345680.0'],
    [2147483648.5, 3, '2147483648.500'],
    [1e-10, 12, '0.000000000100'],
    [25.732028333333333, 9, '25.732028333'],
    [1200 / 3937, 9, '0.304800610'],
  ])('prints %f to %i decimals as %s', (value, decimals, text) => {
    expect(formatFixed(value, decimals)).toBe(text);
  });

  it('agrees with rounding by whole numbers for any double', () => {
    fc.assert(
      fc.property(
        fc.double({ noNaN: true, noDefaultInfinity: true }),
        fc.integer({ min: 0, max: 20 }),
        (value, decimals) => {
          expect(formatFixed(value, decimals)).toBe(byWholeNumbers(value, decimals));
        },
      ),
      { numRuns: 5000, seed: 1 },
    );
  });

  it('agrees with rounding by whole numbers on survey values, ties and near ties, by both paths', () => {
    const random = seededRandom(12);
    for (let i = 0; i < 100000; i += 1) {
      const decimals = random.index(10);
      let value = random.between(-1, 1) * 10 ** random.between(-8, 9);
      if (i % 3 === 0) value = Number(`${String(Math.round(value * 100))}5e-${String(decimals + 1)}`);
      if (i % 6 === 3) value *= 1 + Number.EPSILON;
      const expected = byWholeNumbers(value, decimals);
      if (formatFixed(value, decimals) !== expected || formatFixedFromText(value, decimals) !== expected) {
        expect([value, decimals, formatFixed(value, decimals), formatFixedFromText(value, decimals)]).toBe(expected);
      }
    }
  });

  it('is undone by parseDecimal within half its last place', () => {
    fc.assert(
      fc.property(fc.double({ min: -1e7, max: 1e7, noNaN: true }), (value) => {
        expect(Math.abs((parseDecimal(formatFixed(value, 4)) ?? NaN) - value)).toBeLessThanOrEqual(0.5e-4 + 2e-9);
      }),
      { seed: 2 },
    );
  });

  it('refuses what cannot be printed', () => {
    for (const value of [NaN, Infinity, -Infinity]) {
      expect(() => formatFixed(value, 3)).toThrow('not finite');
      expect(() => formatFixed(value, 12)).toThrow('not finite');
    }
    for (const decimals of [-1, 21, 1.5, 10.5, NaN]) expect(() => formatFixed(1, decimals)).toThrow('decimals');
  });
});
