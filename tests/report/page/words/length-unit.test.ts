import { describe, expect, it } from 'vitest';
import { lengthUnit, millimetresOrMore } from '../../../../src/report/page/words/length-unit.js';

describe('the unit of lengths', () => {
  it.each([
    [0.0153, 'mm', '15.3'],
    [0.9994, 'mm', '999.4'],
    [125.4321, 'm', '125.432'],
    [1_000_000, 'km', '1000.000'],
  ])('of %f m is %s', (valueM, name, text) => {
    const unit = lengthUnit(valueM);
    expect([unit.name, unit.write(valueM)]).toEqual([name, text]);
  });

  it('is of a number in a column of millimetres from ten metres on', () => {
    expect([0.0153, 9.9, 12.5, -49_643.4336, null].map(millimetresOrMore)).toEqual([
      '15.3',
      '9900.0',
      '12.500 m',
      '\u221249.643 km',
      '–',
    ]);
  });

  it('writes a dash for what is not known', () => {
    expect(lengthUnit(1).write(null)).toBe('–');
  });
});
