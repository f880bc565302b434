import type { DistanceMatrix } from './distance-matrix.js';

/**
 * The points as rows of a covering problem: for each, the set of candidates that serve it, as bits.
 * Columns are numbered by position in `columns`, not by candidate index.
 */
export interface CoverRows {
  readonly wordCount: number;
  readonly columnCount: number;
  /** Only rows that say something: no duplicates, and none that contains another. Fewest bits first. */
  readonly rows: readonly Uint32Array[];
  /** Points that no column serves. */
  readonly unserved: readonly number[];
}

/**
 * Builds the covering problem "every point has a base within `limit` times its range".
 *
 * Given: the matrix; candidate indices in order of preference, one a column; the limit as a ratio.
 * Returned: see `CoverRows`. A row that contains another row's set is left out, since whatever
 * serves the smaller set serves it too.
 */
export function coverRows(matrix: DistanceMatrix, columns: readonly number[], limit: number): CoverRows {
  const wordCount = Math.max(1, Math.ceil(columns.length / 32));
  const different = new Map<string, Uint32Array>();
  const unserved: number[] = [];
  const row = new Uint32Array(wordCount);
  for (let point = 0; point < matrix.pointCount; point += 1) {
    row.fill(0);
    let any = false;
    for (let column = 0; column < columns.length; column += 1) {
      if ((matrix.ratio[(columns[column] as number) * matrix.pointCount + point] as number) <= limit) {
        row[column >>> 5] = (row[column >>> 5] as number) | (1 << (column & 31));
        any = true;
      }
    }
    if (!any) {
      unserved.push(point);
      continue;
    }
    const key = row.join();
    if (!different.has(key)) different.set(key, row.slice());
  }
  const sorted = [...different.values()]
    .map((bits) => ({ bits, count: countBits(bits) }))
    .sort((a, b) => a.count - b.count || compareWords(a.bits, b.bits));
  const rows: Uint32Array[] = [];
  for (const { bits } of sorted) {
    if (!rows.some((kept) => contains(bits, kept))) rows.push(bits);
  }
  return { wordCount, columnCount: columns.length, rows, unserved };
}

/** How many bits are set. */
export function countBits(words: Uint32Array): number {
  let count = 0;
  for (let word of words) {
    for (; word !== 0; word &= word - 1) count += 1;
  }
  return count;
}

/** True when a column is in the set. */
export function hasColumn(words: Uint32Array, column: number): boolean {
  return ((words[column >>> 5] as number) & (1 << (column & 31))) !== 0;
}

function contains(larger: Uint32Array, smaller: Uint32Array): boolean {
  for (let i = 0; i < smaller.length; i += 1) {
    if (((smaller[i] as number) & ~(larger[i] as number)) !== 0) return false;
  }
  return true;
}

function compareWords(a: Uint32Array, b: Uint32Array): number {
  for (let i = 0; i < a.length; i += 1) {
    const difference = (a[i] as number) - (b[i] as number);
    if (difference !== 0) return difference;
  }
  return 0;
}
