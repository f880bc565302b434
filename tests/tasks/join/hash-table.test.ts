import { describe, expect, it } from 'vitest';
import { createHashTable } from '../../../src/tasks/join/hash-table.js';

/** Hashes of the test's own: a multiplicative congruence of 32 bits each. */
function hashes(count: number): readonly (readonly [number, number])[] {
  let state = 1;
  const next = (): number => (state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0);
  return Array.from({ length: count }, () => [next(), next()] as const);
}

describe('createHashTable', () => {
  it('holds what a Map holds, through many times of growing', () => {
    const table = createHashTable();
    const known = new Map<string, number>();
    for (const [index, [high, low]] of hashes(20_000).entries()) {
      table.set(high, low, (index % 65_535) + 1);
      known.set(`${String(high)} ${String(low)}`, (index % 65_535) + 1);
    }
    for (const [high, low] of hashes(20_000))
      expect(table.get(high, low)).toBe(known.get(`${String(high)} ${String(low)}`));
  });

  it('has 0 for what was never set, before and after growing', () => {
    const table = createHashTable();
    const [asked, ...others] = hashes(10_000);
    expect(table.get(...asked!)).toBe(0);
    for (const [high, low] of others) table.set(high, low, 7);
    expect(table.get(...asked!)).toBe(0);
  });

  it('tells hashes apart that share a half, and takes the last value of one', () => {
    const table = createHashTable();
    for (let n = 0; n < 500; n += 1) {
      table.set(5, 64 * n, n + 1);
      table.set(4_294_967_295, 64 * n, 1000 + n);
    }
    table.set(5, 0, 9);
    for (let n = 1; n < 500; n += 1) {
      expect(table.get(5, 64 * n)).toBe(n + 1);
      expect(table.get(4_294_967_295, 64 * n)).toBe(1000 + n);
    }
    expect(table.get(5, 0)).toBe(9);
    expect(table.get(6, 0)).toBe(0);
  });
});
