import { describe, expect, it } from 'vitest';
import { editDistance, nearestWord } from '../../../src/core/numeric/nearest-word.js';

describe('nearestWord', () => {
  const keys = ['pole_length_m', 'pole_sigma_m', 'reference_point', 'tilt_azimuth'];

  it.each([
    ['pole_lenght_m', 'pole_length_m'],
    ['POLE_LENGTH_M', 'pole_length_m'],
    ['referencepoint', 'reference_point'],
    ['tilt_azimut', 'tilt_azimuth'],
  ])('takes %s for %s', (typed, meant) => {
    expect(nearestWord(typed, keys)).toBe(meant);
  });

  it('suggests nothing far off', () => {
    expect(nearestWord('geoid', keys)).toBeNull();
    expect(nearestWord('tilt_azimuth_x', keys, 1)).toBeNull();
    expect(nearestWord('', [])).toBeNull();
  });

  it('takes the first of equals', () => {
    expect(nearestWord('bat', ['cat', 'rat'])).toBe('cat');
  });
});

describe('editDistance', () => {
  it.each([
    ['kitten', 'sitting', 3],
    ['lenght', 'length', 1],
    ['', 'abc', 3],
    ['abc', 'abc', 0],
    ['ab', 'ba', 1],
  ])('from %s to %s is %i', (from, to, distance) => {
    expect(editDistance(from, to)).toBe(distance);
    expect(editDistance(to, from)).toBe(distance);
  });
});
