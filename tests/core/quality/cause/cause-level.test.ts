import { describe, expect, it } from 'vitest';
import { CAUSE_COUNT } from '../../../../src/core/quality/cause/cause-ids.js';
import { chanceOfDrop } from '../../../../src/core/quality/cause/cause-level.js';

const FORM = {
  drop: 20,
  chiSquareAfter: 12,
  values: 30,
  unknowns: 1,
  hasFixed: false,
  choices: 1,
  isNoiseEstimated: false,
};

// Tails of F from SciPy, f.sf(x, d1, d2); the chance is that tail for every form of every cause (Bonferroni's inequality).
describe('chanceOfDrop', () => {
  it.each([
    ['one unknown, f.sf(20, 1, 40)', {}, 6.254495741e-5],
    ['of three like forms', { choices: 3 }, 3 * 6.254495741e-5],
    ['three unknowns, f.sf(20/3, 3, 40)', { unknowns: 3 }, 9.33248258e-4],
    ['two unknowns and a pattern of stated size', { unknowns: 2, hasFixed: true }, 9.33248258e-4],
    ['one side of a pattern of stated size', { unknowns: 0, hasFixed: true }, 6.254495741e-5 / 2],
    [
      'noise of the values themselves, 12/8 with eight degrees, f.sf(10, 2, 8)',
      { drop: 30, unknowns: 2, values: 10, isNoiseEstimated: true },
      6.663890046e-3,
    ],
  ])('is the tail of F with %s', (_, change, tail) => {
    expect(chanceOfDrop({ ...FORM, ...change }) / Math.min(1, tail * CAUSE_COUNT)).toBeCloseTo(1, 8);
  });

  it('is 1 where nothing drops, and where nothing is left to judge by', () => {
    expect(chanceOfDrop({ ...FORM, drop: 0 })).toBe(1);
    expect(chanceOfDrop({ ...FORM, drop: Number.NaN })).toBe(1);
    expect(chanceOfDrop({ ...FORM, unknowns: 0 })).toBe(1);
    expect(chanceOfDrop({ ...FORM, values: 1 })).toBe(1);
    expect(chanceOfDrop({ ...FORM, values: 2 })).toBeLessThan(1);
  });
});
