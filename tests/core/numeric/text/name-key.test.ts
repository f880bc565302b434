import { describe, expect, it } from 'vitest';
import { nameKey } from '../../../../src/core/numeric/text/name-key.js';

// Forms of one letter: Unicode Standard Annex 15, table 1 (composed and decomposed) and figure 6 (compatibility forms). Signs and noughts: invented.
describe('nameKey', () => {
  it.each([
    ['A-1', 'a1'],
    ['QP–007', 'qp 7'],
    ['BM.12', 'bm_12'],
    ['\u00c54', 'A\u030a4'],
    ['\ufb013', 'FI3'],
    ['１２', '12'],
    [' T3 ', '(T3)'],
    ['0', '00'],
    ['1-02', '01.2'],
    ['A0B', 'a-0-b'],
  ])('takes %s and %s for two writings of one name', (one, other) => {
    expect(nameKey(one)).toBe(nameKey(other));
  });
  it.each([
    ['1-23', '12-3'],
    ['P1', 'P10'],
    ['P1', 'P2'],
    ['P100', 'P1'],
    ['A1', 'B1'],
    ['\u00c54', 'A4'],
    ['0', ''],
    ['1', '1A'],
  ])('keeps %s and %s apart', (one, other) => {
    expect(nameKey(one)).not.toBe(nameKey(other));
  });
});
