import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { editDistance, nearestWord } from '../../../../src/core/numeric/text/nearest-word.js';

describe('nearestWord', () => {
  const keys = ['pole_length_m', 'pole_sigma_m', 'reference_point', 'tilt_azimuth'];

  it.each([
    ['pole_lenght_m', 'pole_length_m'],
    ['POLE_LENGTH_M', 'pole_length_m'],
    ['referencepoint', 'reference_point'],
    ['tilt_azimut', 'tilt_azimuth'],
    ['poel_lenght_mm', 'pole_length_m'],
  ])('takes %s for %s', (typed, meant) => {
    expect(nearestWord(typed, keys)).toBe(meant);
  });

  it('suggests nothing far off', () => {
    expect(nearestWord('geoid', keys)).toBeNull();
    expect(nearestWord('tilt_azimuth_x', keys, 1)).toBeNull();
    expect(nearestWord('', [])).toBeNull();
  });

  // 2026-11: a row of quality 3 was refused with "did you mean 4?", which is integer-fixed.
  it('suggests nothing for a single character that is none of them', () => {
    expect(nearestWord('3', ['fixed', '4', '5', '2', '1'])).toBeNull();
    expect(nearestWord('a', ['A'])).toBe('A');
  });

  it('allows one edit of a word too short for a third of it', () => {
    expect(nearestWord('ib', ['id', 'code'])).toBe('id');
    expect(nearestWord('xy', ['id', 'code'])).toBeNull();
  });

  it('takes the nearest, wherever it stands, and the first of equals', () => {
    expect(nearestWord('heights', ['weights', 'height', 'heights'])).toBe('heights');
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
    ['ca', 'abc', 3],
    ['abcd', 'badc', 2],
    ['aab', 'aba', 1],
  ])('from %s to %s is %i', (from, to, distance) => {
    expect(editDistance(from, to)).toBe(distance);
    expect(editDistance(to, from)).toBe(distance);
  });
});

/** The least edits between two words, from the definition: what becomes of their last letters. */
function byDefinition(a: string, b: string): number {
  if (a === '' || b === '') return a.length + b.length;
  const exchanged = a.length > 1 && b.length > 1 && a.at(-1) === b.at(-2) && a.at(-2) === b.at(-1);
  return Math.min(
    byDefinition(a.slice(0, -1), b) + 1,
    byDefinition(a, b.slice(0, -1)) + 1,
    byDefinition(a.slice(0, -1), b.slice(0, -1)) + (a.at(-1) === b.at(-1) ? 0 : 1),
    exchanged ? byDefinition(a.slice(0, -2), b.slice(0, -2)) + 1 : Infinity,
  );
}

it('editDistance agrees with its definition on short words of few letters', () => {
  const word = fc.string({ unit: fc.constantFrom('a', 'b', 'c'), maxLength: 5 });
  fc.assert(
    fc.property(word, word, (from, to) => {
      expect(editDistance(from, to)).toBe(byDefinition(from, to));
    }),
    { numRuns: 300, seed: 5 },
  );
});
