import { describe, expect, it } from 'vitest';
import type { Fix } from '../../../../src/records/points/fix.js';
import { isFrozen, LEAST_FROZEN } from '../../../../src/tasks/reduce/epochs/frozen-positions.js';

const fixes = (count: number, change: (index: number) => Partial<Fix> = () => ({})): readonly Fix[] =>
  Array.from(
    { length: count },
    (_, index) =>
      ({
        epochMs: 1000 * index,
        epochCount: 1,
        geodetic: { latitudeDeg: 51.051, longitudeDeg: 13.702, ellipsoidalHeightM: 200.5742 },
        ...change(index),
      }) as Fix,
  );

describe('isFrozen', () => {
  it('finds one position written again and again', () => {
    expect(isFrozen(fixes(LEAST_FROZEN))).toBe(true);
    expect(isFrozen(fixes(LEAST_FROZEN - 1))).toBe(false);
  });

  it('lets be what changes once by a unit of its last place', () => {
    for (const change of [
      { latitudeDeg: 51.051000001 },
      { longitudeDeg: 13.702000001 },
      { ellipsoidalHeightM: 200.5743 },
    ])
      expect(
        isFrozen(
          fixes(60, (index) =>
            index === 59
              ? { geodetic: { latitudeDeg: 51.051, longitudeDeg: 13.702, ellipsoidalHeightM: 200.5742, ...change } }
              : {},
          ),
        ),
      ).toBe(false);
  });

  it('says nothing of means and of rows without times', () => {
    expect(isFrozen(fixes(60, () => ({ epochCount: 30 })))).toBe(false);
    expect(isFrozen(fixes(60, () => ({ epochMs: null })))).toBe(false);
  });
});
