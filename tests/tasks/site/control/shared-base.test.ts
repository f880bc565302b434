import { describe, expect, it } from 'vitest';
import type { PointRow } from '../../../../src/records/points/point-row.js';
import { ownVarianceM2, sharedBases } from '../../../../src/tasks/site/control/shared-base.js';

describe('ownVarianceM2', () => {
  // An assumption of the site fit: a tenth of what was measured is the point's own, whatever its base claims.
  it('is what the base leaves, and a tenth at least', () => {
    expect(ownVarianceM2(10, 3)).toBe(7);
    expect(ownVarianceM2(10, 9)).toBe(1);
    expect(ownVarianceM2(10, 9.5)).toBe(1);
    expect(ownVarianceM2(10, 20)).toBe(1);
  });
});

describe('sharedBases', () => {
  type Base = Parameters<typeof sharedBases>[0][number];
  const base = (id: string, own: Partial<Base> = {}): Base =>
    ({ id, known: null, sigmaHorizontalM: 0.003, sigmaVerticalM: 0.004, fromMs: null, toMs: null, ...own }) as Base;
  const row = (baseId: string | null): PointRow => ({ baseId, firstEpochMs: null, occupation: '1' }) as PointRow;

  it('gives a point what its base states, by the name that the point has for it', () => {
    const shared = sharedBases([base('B1'), base('B2', { sigmaHorizontalM: 0.01, sigmaVerticalM: null })]);
    expect(shared(row('B1'))).toEqual({
      id: 'set-up 0',
      names: 'B1',
      horizontalM2: 0.003 ** 2,
      verticalM2: 0.004 ** 2,
    });
    expect(shared(row('B2'))).toEqual({ id: 'set-up 1', names: 'B2', horizontalM2: 0.01 ** 2, verticalM2: 0 });
    expect(shared(row('B3'))).toBeNull();
  });

  it('takes the only base for a point that names none, and none of several', () => {
    expect(sharedBases([base('B1')])(row(null))?.names).toBe('B1');
    expect(sharedBases([base('B1'), base('B2')])(row(null))).toBeNull();
    expect(sharedBases([])(row(null))).toBeNull();
    // A name that is not the base's is not the base's.
    expect(sharedBases([base('B1')])(row('B9'))).toBeNull();
  });

  it('shares nothing where nothing is stated, and one error between set-ups over one coordinate', () => {
    expect(sharedBases([base('B1', { sigmaHorizontalM: null, sigmaVerticalM: null })])(row('B1'))).toBeNull();
    expect(sharedBases([base('B1', { sigmaHorizontalM: null })])(row('B1'))?.horizontalM2).toBe(0);
    const known = { latitudeDeg: 1 } as unknown as Base['known'];
    const shared = sharedBases([base('B1', { known }), base('B2', { known })]);
    expect(shared(row('B1'))?.id).toBe(shared(row('B2'))?.id);
  });
});
