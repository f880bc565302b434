import { describe, expect, it } from 'vitest';
import { refusalCounts, refusesAny } from '../../../src/tasks/check/count-fixes.js';
import type { FixCounts } from '../../../src/tasks/check/count-fixes.js';

const NONE: FixCounts = {
  surveyed: null,
  seen: 10,
  accepted: 10,
  epochs: new Map(),
  stands: new Map(),
  standCount: 3,
  tilts: new Map(),
};

describe('what limits refuse', () => {
  it('is the epochs of each code over all stands, and each stand once', () => {
    const counts = refusalCounts({
      ...NONE,
      epochs: new Map([
        [
          'epoch-pdop',
          new Map([
            ['A', 3],
            ['B', 4],
          ]),
        ],
        ['epoch-correction-age', new Map([['A', 2]])],
      ]),
      stands: new Map([
        [
          'epoch-correction-age',
          new Map([
            ['A', 9],
            ['C', 9],
          ]),
        ],
        ['point-too-few-epochs', new Map([['B', 1]])],
      ]),
    });
    expect([...counts]).toEqual([
      ['epoch-pdop', 7],
      ['epoch-correction-age', 4],
      ['point-too-few-epochs', 1],
    ]);
  });

  it('is something where fewer are accepted than seen, or a stand makes no point', () => {
    expect(refusesAny(NONE)).toBe(false);
    expect(refusesAny({ ...NONE, accepted: 9 })).toBe(true);
    expect(refusesAny({ ...NONE, stands: new Map([['point-too-few-epochs', new Map([['B', 1]])]]) })).toBe(true);
  });
});
