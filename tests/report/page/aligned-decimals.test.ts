import { describe, expect, it } from 'vitest';
import { decimalClasses } from '../../../src/report/page/aligned-decimals.js';
import { markup } from '../../../src/report/page/markup.js';

describe('numbers of a column with different decimals', () => {
  it('have room for what they lack, so that their points stand under each other', () => {
    expect(decimalClasses(['1006.42', '1006.686', '\u22121040', '–', ''])).toEqual(['z1', '', 'y3', '', '']);
    expect(decimalClasses(['0.052 / 0.11', '0.044 / 0.091'])).toEqual(['z1', '']);
  });

  it('have none where all have as many, or are no numbers', () => {
    expect(decimalClasses(['1.25', '\u22123.50', '12.00'])).toEqual(['', '', '']);
    expect(decimalClasses(['28.1 (plan)', markup`1.5`, '2 × 10³'])).toEqual(['', '', '']);
    expect(decimalClasses([])).toEqual([]);
  });
});
