import { describe, expect, it } from 'vitest';
import { lengthUnit } from '../../../../src/report/page/words/length-unit.js';

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

  it('writes a dash for what is not known', () => {
    expect(lengthUnit(1).write(null)).toBe('–');
  });
});
