import { hasColumn } from './cover-rows.js';
import type { CoverRows } from './cover-rows.js';

/** A set of columns that serves every row, and what is proved about its size. */
export interface SmallestCover {
  /** Columns, ascending. */
  readonly columns: readonly number[];
  /** No cover can have fewer columns than this; equal to `columns.length` when the search finished. */
  readonly lowerBound: number;
}

interface Search {
  readonly cover: CoverRows;
  /** How many chosen columns serve each row. */
  readonly served: Int32Array;
  readonly chosen: number[];
  best: readonly number[] | null;
  bestSize: number;
  nodesLeft: number;
}

/**
 * The fewest columns that serve every row (set cover), by branch and bound.
 *
 * Given: the rows, none empty; the largest size of interest; a budget of search nodes. Returned: a
 * cover of the least size, or null where no cover of at most `largest` columns was found; with
 * `lowerBound` equal to its size it is proved to be the least, or (null) `lowerBound` > `largest`
 * proves that there is none. When the budget runs out first, the bound found at the start stands.
 * Rows are branched on by fewest columns, columns in their order, so the answer does not depend on
 * anything but the input. Worst case exponential in the number of columns.
 *
 * Bound: rows that share no column need one column each.
 */
export function smallestCover(
  cover: CoverRows,
  largest: number,
  nodeBudget = 2_000_000,
): SmallestCover | { readonly columns: null; readonly lowerBound: number } {
  const search: Search = {
    cover,
    served: new Int32Array(cover.rows.length),
    chosen: [],
    best: null,
    bestSize: largest + 1,
    nodesLeft: nodeBudget,
  };
  const rootBound = disjointRows(cover, search.served, search.bestSize);
  const greedy = greedyCover(cover);
  if (greedy.length < search.bestSize) {
    search.best = greedy;
    search.bestSize = greedy.length;
  }
  branch(search);
  const proved = search.nodesLeft > 0 ? search.bestSize : rootBound;
  return { columns: search.best === null ? null : [...search.best].sort((a, b) => a - b), lowerBound: proved };
}

function branch(search: Search): void {
  search.nodesLeft -= 1;
  if (search.nodesLeft <= 0) return;
  const { cover, served, chosen } = search;
  const row = served.indexOf(0);
  if (row < 0) {
    if (chosen.length < search.bestSize) {
      search.best = [...chosen];
      search.bestSize = chosen.length;
    }
    return;
  }
  const room = search.bestSize - 1 - chosen.length;
  if (room <= 0 || disjointRows(cover, served, room + 1) > room) return;
  const bits = cover.rows[row] as Uint32Array;
  for (let column = 0; column < cover.columnCount; column += 1) {
    if (!hasColumn(bits, column)) continue;
    mark(cover, served, column, 1);
    chosen.push(column);
    branch(search);
    chosen.pop();
    mark(cover, served, column, -1);
    if (search.nodesLeft <= 0) return;
  }
}

function mark(cover: CoverRows, served: Int32Array, column: number, by: number): void {
  for (let row = 0; row < served.length; row += 1) {
    if (hasColumn(cover.rows[row] as Uint32Array, column)) served[row] = (served[row] as number) + by;
  }
}

/** How many unserved rows, taken greedily with fewest columns first, share no column; stops at `enough`. */
export function disjointRows(cover: CoverRows, served: Int32Array, enough: number): number {
  const used = new Uint32Array(cover.wordCount);
  let count = 0;
  for (let row = 0; row < cover.rows.length && count < enough; row += 1) {
    if (served[row] !== 0) continue;
    const bits = cover.rows[row] as Uint32Array;
    let shares = false;
    for (let word = 0; word < used.length; word += 1) {
      if (((used[word] as number) & (bits[word] as number)) !== 0) shares = true;
    }
    if (shares) continue;
    for (let word = 0; word < used.length; word += 1) used[word] = (used[word] as number) | (bits[word] as number);
    count += 1;
  }
  return count;
}

/** Takes the column that serves most unserved rows (the first of equals) until all are served. */
export function greedyCover(cover: CoverRows): readonly number[] {
  const open = new Set(cover.rows);
  const columns: number[] = [];
  while (open.size > 0) {
    let best = -1;
    let most = 0;
    for (let column = 0; column < cover.columnCount; column += 1) {
      let count = 0;
      for (const bits of open) if (hasColumn(bits, column)) count += 1;
      if (count > most) {
        most = count;
        best = column;
      }
    }
    columns.push(best);
    for (const bits of open) if (hasColumn(bits, best)) open.delete(bits);
  }
  return columns;
}
