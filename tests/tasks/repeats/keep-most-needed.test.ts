import { describe, expect, it } from 'vitest';
import { keepMostNeeded } from '../../../src/tasks/repeats/keep-most-needed.js';
import { seededRandom } from '../../support/seeded-random.js';

describe('keepMostNeeded', () => {
  it('keeps those with the greatest need, the earliest of equals, in the order they came', () => {
    const random = seededRandom(20261129);
    for (let run = 0; run < 200; run += 1) {
      const most = 1 + (run % 6);
      const offered = Array.from({ length: 12 }, (_, item) => ({ need: Math.floor(random.between(0, 5)), item }));
      const store = keepMostNeeded<number>(most);
      for (const { need, item } of offered) {
        const before = store.items();
        const wants = store.wants(need);
        store.add(need, item);
        // What is not wanted changes nothing.
        expect(store.items().includes(item)).toBe(wants);
        if (!wants) expect(store.items()).toEqual(before);
      }
      const expected = [...offered]
        .sort((a, b) => b.need - a.need || a.item - b.item)
        .slice(0, most)
        .map(({ item }) => item)
        .sort((a, b) => a - b);
      expect(store.items()).toEqual(expected);
    }
  });
});
