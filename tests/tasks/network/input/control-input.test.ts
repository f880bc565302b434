import { describe, expect, it } from 'vitest';
import { GRS80 } from '../../../../src/core/ellipsoid/ellipsoid.js';
import type { GeoidModel } from '../../../../src/core/geoid/geoid-height.js';
import type { NetworkControlRow } from '../../../../src/records/network-rows.js';
import { controlOf } from '../../../../src/tasks/network/input/control-input.js';

const geoid = { heightAt: () => 25, statusAt: () => 'inside' } as unknown as GeoidModel;
const row: NetworkControlRow = {
  pointId: 'C',
  geocentric: null,
  gridFirst: null,
  gridSecond: null,
  latitudeDeg: -31.5,
  longitudeDeg: 21.4,
  ellipsoidalHeightM: 1025,
  orthometricHeightM: 1000,
  sigmaHorizontalM: 0.01,
  sigmaVerticalM: 0.02,
  held: null,
  place: { sourceIndex: 0, line: 2 },
};

function problemsOf(orthometricHeightM: number, geoidSigmaM: number | null): readonly string[] {
  const made = controlOf({ ...row, orthometricHeightM }, { ellipsoid: GRS80, grid: null, geoid, geoidSigmaM }, null);
  return made.problems.map(({ code, severity }) => `${severity} ${code}`);
}

describe('two heights of a control point', () => {
  // 2.575829 times √(0.03² + 0.02²) is 0.0929 m, and 2 mm are the digits'.
  it('agree within what the geoid and the row leave open, at 1 %', () => {
    expect(problemsOf(1000.0945, 0.03)).toEqual([]);
    expect(problemsOf(999.9055, 0.03)).toEqual([]);
    expect(problemsOf(1000.0952, 0.03)).toEqual(['error network-heights']);
    expect(problemsOf(999.9048, 0.03)).toEqual(['error network-heights']);
  });

  it('that differ are said where the geoid states no sigma, and the ellipsoidal one holds', () => {
    expect(problemsOf(1000.2, null)).toEqual(['warning network-heights']);
    const made = controlOf(
      { ...row, orthometricHeightM: 1000.2 },
      { ellipsoid: GRS80, grid: null, geoid, geoidSigmaM: null },
      null,
    );
    expect(made.ok && made.value.geoidHeightM).toBeNull();
  });
});
