import { describe, expect, it } from 'vitest';
import { farthestPairs } from '../../../src/core/quality/farthest-pairs.js';
import { seededRandom } from '../../support/seeded-random.js';

const at = (x: number | null, y: number | null, up: number | null = null) => ({ x, y, up });

describe('farthestPairs', () => {
  it('gives the pair farthest apart in plan and the pair farthest apart in height, each once', () => {
    expect(farthestPairs([at(0, 0, 5), at(3, 4, 5.1), at(1, 1, 4)])).toEqual([
      [0, 1],
      [1, 2],
    ]);
    expect(farthestPairs([at(3, 4, 9), at(0, 0, 5)])).toEqual([[0, 1]]);
  });

  it('leaves out what is not known: a place with one of its two values has none', () => {
    expect(farthestPairs([at(0, 0), at(1, 0), at(9, null), at(null, 9)])).toEqual([[0, 1]]);
    expect(farthestPairs([at(null, null, 1), at(null, null, null), at(null, null, 3)])).toEqual([[0, 2]]);
    expect(farthestPairs([at(1, 1, 1)])).toEqual([]);
    expect(farthestPairs([])).toEqual([]);
  });

  it('finds the same as a look at every pair, in any clouds and on lines', () => {
    const random = seededRandom(20261130);
    for (let day = 0; day < 200; day += 1) {
      const count = 2 + (day % 9);
      const places = Array.from({ length: count }, () =>
        at(random.normal(), day % 4 === 0 ? 0 : random.normal(), day % 3 === 0 ? null : random.normal()),
      );
      const [pair] = farthestPairs(places);
      const apart = (i: number, j: number): number =>
        Math.hypot((places[i]?.x ?? NaN) - (places[j]?.x ?? NaN), (places[i]?.y ?? NaN) - (places[j]?.y ?? NaN));
      let most = 0;
      for (let i = 0; i < count; i += 1) for (let j = 0; j < i; j += 1) most = Math.max(most, apart(i, j));
      expect(pair === undefined ? null : apart(...pair)).toBe(most);
      expect((pair?.[0] ?? 1) < (pair?.[1] ?? 0)).toBe(true);
    }
  });
});
