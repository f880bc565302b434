import { describe, expect, it } from 'vitest';
import type { CoverRows } from '../../../../src/core/planning/siting/cover-rows.js';
import { disjointRows, greedyCover, smallestCover } from '../../../../src/core/planning/siting/smallest-cover.js';

/** Rows by the columns that serve each. */
function coverOf(columnCount: number, ...rows: readonly (readonly number[])[]): CoverRows {
  return {
    wordCount: 1,
    columnCount,
    unserved: [],
    rows: rows.map((columns) => Uint32Array.of(columns.reduce((bits, column) => bits | (1 << column), 0))),
  };
}

/** Column 2 serves most and is in the way: the greedy choice takes three columns, and two will do. */
const TRAP = coverOf(3, [0], [1], [0, 2], [0, 2], [1, 2], [1, 2]);

describe('smallestCover', () => {
  it('finds what the greedy choice misses, and proves it', () => {
    expect(greedyCover(TRAP)).toHaveLength(3);
    expect(smallestCover(TRAP, 3)).toEqual({ columns: [0, 1], lowerBound: 2 });
  });

  it('gives the greedy cover with the bound found at the start when its budget runs out at once or on the way', () => {
    for (const budget of [1, 2]) {
      const found = smallestCover(TRAP, 3, budget);
      expect(found.columns).toEqual([0, 1, 2]);
      expect(found.lowerBound).toBe(2);
    }
  });

  it('says that there is none so small, with a bound that proves it', () => {
    expect(smallestCover(TRAP, 1)).toEqual({ columns: null, lowerBound: 2 });
    expect(smallestCover(TRAP, 1, 1)).toEqual({ columns: null, lowerBound: 2 });
  });

  it('covers nothing with nothing', () => {
    expect(smallestCover(coverOf(3), 0)).toEqual({ columns: [], lowerBound: 0 });
  });
});

describe('disjointRows', () => {
  it('counts unserved rows that share no column, and stops at enough', () => {
    expect(disjointRows(TRAP, new Int32Array(6), 9)).toBe(2);
    expect(disjointRows(TRAP, new Int32Array(6), 1)).toBe(1);
    expect(disjointRows(TRAP, Int32Array.of(1, 1, 0, 0, 0, 0), 9)).toBe(1);
  });
});
