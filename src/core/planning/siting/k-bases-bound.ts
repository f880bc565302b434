import { coverRows } from './cover-rows.js';
import type { DistanceMatrix } from './distance-matrix.js';
import { disjointRows } from './smallest-cover.js';

/**
 * A ratio below which no K candidates can serve all points.
 *
 * Given: the matrix; candidate indices; K; a ratio that K candidates are known to reach. Returned: a
 * lower bound of the least ratio. If at some limit more than K points can be found of which no two
 * have a candidate in common, K bases cannot serve them within that limit, so the least ratio is at
 * least the next ratio that occurs. The largest such limit found by bisection is used (the greedy choice of points need
 * not be monotone, which can only make the bound weaker, never wrong).
 */
export function kBasesBound(matrix: DistanceMatrix, order: readonly number[], k: number, reached: number): number {
  const ratios = Float64Array.from(new Set(matrix.ratio.filter((ratio) => ratio <= reached))).sort();
  let low = -1;
  let high = ratios.length - 1;
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    const cover = coverRows(matrix, order, ratios[middle] as number);
    const impossible = cover.unserved.length > 0 || disjointRows(cover, new Int32Array(cover.rows.length), k + 1) > k;
    if (impossible) low = middle;
    else high = middle;
  }
  return ratios[low + 1] as number;
}
