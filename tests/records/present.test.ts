import { describe, expect, it } from 'vitest';
import { InternalError } from '../../src/records/internal-error.js';
import { entryAt, present } from '../../src/records/present.js';

describe('what must be there', () => {
  it('is given back, 0 and empty text too', () => {
    expect([entryAt([0, 7], 0), entryAt(['', 'a'], 0), entryAt(Float64Array.of(1, 2), 1)]).toEqual([0, '', 2]);
    expect([present(0, 'height'), present('', 'name'), present(false, 'answer')]).toEqual([0, '', false]);
  });

  it('is an internal error where it is not, with what was asked for', () => {
    for (const index of [-1, 2, 0.5, NaN])
      expect(() => entryAt([1, 2], index)).toThrow(new InternalError(`no entry ${String(index)} in a list of 2`));
    for (const value of [null, undefined])
      expect(() => present(value, 'the height')).toThrow(new InternalError('the height is not known where it must be'));
  });
});
