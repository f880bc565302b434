import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { parseDecimal } from '../../../../src/core/numeric/text/decimal-text.js';

describe('parseDecimal', () => {
  it.each([
    ['0', 0],
    ['007', 7],
    ['-1.5', -1.5],
    ['+1.5', 1.5],
    ['.5', 0.5],
    ['5.', 5],
    ['  12.25\t', 12.25],
    ['1e3', 1000],
    [' 1e3 ', 1000],
    ['-1.5e-2\t', -0.015],
    ['1E-3', 0.001],
    ['-2.5e+2', -250],
    ['9007199254740993', 9007199254740992],
    ['0.1000000000000000055511151231257827', 0.1],
    ['1e-400', 0],
  ])('reads %s', (text, value) => {
    expect(parseDecimal(text)).toBe(value);
  });

  it.each([
    '',
    ' ',
    '+',
    '-',
    '.',
    '-.',
    'e5',
    '.e5',
    '1e',
    '1e+',
    '1e5.',
    '1e 5',
    '1.2.3',
    '1,5',
    '1,234.5',
    '1 234',
    '1_000',
    '0x10',
    '0b1',
    '0o7',
    'NaN',
    'inf',
    'Infinity',
    '-Infinity',
    '1e999',
    '--1',
    '+-1',
    '1-',
    '12m',
    '٣',
    '1\n',
    '\u00a01',
    '1e5\n',
    '1e5\u00a0',
    '1e5\u00a0 ',
    '1e5x',
    '1e+5-',
    '1e5e5',
  ])('refuses %j', (text) => {
    expect(parseDecimal(text)).toBeNull();
  });

  it('reads a comma as the decimal mark only when told so', () => {
    expect(parseDecimal('3487000,125', true)).toBe(3487000.125);
    expect(parseDecimal('-1,5e2', true)).toBe(-150);
    expect(parseDecimal('1.5', true)).toBeNull();
    expect(parseDecimal('1.234,5', true)).toBeNull();
    expect(parseDecimal('1,2,3', true)).toBeNull();
  });

  it('gives the double nearest to any decimal, as the language reads its own literals', () => {
    const digits = fc.stringMatching(/^\d{1,22}$/);
    fc.assert(
      fc.property(
        fc.constantFrom('', '-', '+'),
        digits,
        fc.option(fc.stringMatching(/^\d{1,24}$/)),
        (sign, whole, part) => {
          const text = sign + whole + (part === null ? '' : `.${part}`);
          expect(Object.is(parseDecimal(text), Number(text))).toBe(true);
        },
      ),
      { numRuns: 5000, seed: 2 },
    );
  });

  it('reads back every double from its own text', () => {
    fc.assert(
      fc.property(fc.double({ noNaN: true, noDefaultInfinity: true }), (value) => {
        expect(Object.is(parseDecimal(Object.is(value, -0) ? '-0' : String(value)), value)).toBe(true);
      }),
      { numRuns: 5000, seed: 3 },
    );
  });

  it('never returns anything but a finite number or null', () => {
    fc.assert(
      fc.property(fc.string(), fc.boolean(), (text, comma) => {
        const value = parseDecimal(text, comma);
        expect(value === null || Number.isFinite(value)).toBe(true);
      }),
      { numRuns: 3000, seed: 4 },
    );
  });
});
