import { describe, expect, it } from 'vitest';
import { defaultShift } from '../../../../src/core/frames/shifts/default-shift.js';

describe('the shift written in a definition', () => {
  it('is a translation with three numbers, and with seven that do not turn', () => {
    const three = defaultShift('Invented', [-134.73, -110.92, -292.66]);
    expect(three).toMatchObject({ method: 'geocentric-translation', from: 'Invented', to: 'WGS 84', accuracyM: null });
    expect(three?.parameters).toMatchObject({ txM: -134.73, tyM: -110.92, tzM: -292.66, rzArcsec: 0, dsPpm: 0 });
    expect(defaultShift('Invented', [-134.73, -110.92, -292.66, 0, 0, 0, 0])).toEqual(three);
  });

  it('turns with seven numbers of which any but the first three is not zero', () => {
    for (const at of [3, 4, 5, 6]) {
      const seven = [1, 2, 3, 0, 0, 0, 0].map((value, i) => (i === at ? 0.5 : value));
      expect(defaultShift('Invented', seven)?.method).toBe('position-vector');
    }
  });

  it('is none with any other count of numbers', () => {
    for (const count of [0, 1, 2, 4, 5, 6, 8])
      expect(defaultShift('Invented', new Array<number>(count).fill(1))).toBeNull();
  });
});
