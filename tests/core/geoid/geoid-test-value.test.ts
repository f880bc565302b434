import { describe, expect, it } from 'vitest';
import { createGeoidHeight } from '../../../src/core/geoid/geoid-height.js';
import { geoidIdentityWords, geoidTestValue } from '../../../src/core/geoid/geoid-test-value.js';
import { gridLevelFrom } from '../../../src/core/geoid/grid-level-from.js';
import { valueOf } from '../../support/shift-of-row.js';

function gridOf(values: readonly number[], unitM = 1) {
  const shape = { southDeg: -30, westDeg: 199, latitudeStepDeg: 0.5, longitudeStepDeg: 1, rows: 3, columns: 3 };
  const level = valueOf(gridLevelFrom(shape, Float64Array.from(values), unitM));
  return { name: 'g.gtx', sha256: '0123456789abcdef', frame: null, precisionNote: null, levels: [level] };
}

describe('the test value of a geoid', () => {
  it('is that of the middle node, which every way of interpolation gives there', () => {
    const grid = gridOf([1, 2, 3, 4, 5.25, 6, 7, 8, 9]);
    expect(geoidTestValue(grid)).toEqual({ latitudeDeg: -29.5, longitudeDeg: -160, heightM: 5.25 });
    for (const way of ['bilinear', 'biquadratic'] as const)
      expect(valueOf(createGeoidHeight(grid, way)).heightAt(-29.5, -160)).toBe(5.25);
    expect(geoidIdentityWords(grid)).toBe('SHA-256 0123456789ab…; N 5.2500 m at -29.500000, -160.000000');
  });

  it('passes over nodes without a value, and counts in the unit of the grid', () => {
    expect(geoidTestValue(gridOf([1, 2, 3, 4, NaN, NaN, 700, 8, 9], 0.01))).toEqual({
      latitudeDeg: -29,
      longitudeDeg: -161,
      heightM: 7,
    });
    expect(geoidIdentityWords({ ...gridOf([1, 2, 3, 4, 5, 6, 7, 8, 9]), sha256: null })).toBe(
      'built in; N 5.0000 m at -29.500000, -160.000000',
    );
  });
});
