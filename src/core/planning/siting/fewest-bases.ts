import { preferenceOrder } from './candidate-filter.js';
import { coverRows } from './cover-rows.js';
import type { DistanceMatrix } from './distance-matrix.js';
import type { BaseCandidate } from '../plan-point.js';
import { greedyCover, smallestCover } from './smallest-cover.js';

/** The fewest bases that serve every point that can be served. */
export interface FewestBases {
  /** Candidate indices, ascending. */
  readonly bases: readonly number[];
  /** Points out of range of every candidate; the bases serve all the others. */
  readonly unserved: readonly number[];
  /** True: proved that no fewer bases do it. */
  readonly exact: boolean;
  /** No fewer bases than this can do it. */
  readonly lowerBound: number;
}

/**
 * The fewest candidates so that every point has a base within its range (set cover).
 *
 * Given: candidates and their matrix. Returned: see `FewestBases`; empty where no point can be
 * served. Among covers of the same size the one found first in order of preference is kept.
 * The search is exact up to 50 candidates unless it outgrows its budget of nodes, which is then
 * said by `exact: false`. Above 50 a short search is made and the bound tells how good it is: the
 * greedy start is within a factor 1 + ln n of the least, n the number of points (CHVATAL-1979).
 */
export function fewestBases(candidates: readonly BaseCandidate[], matrix: DistanceMatrix): FewestBases {
  const order = preferenceOrder(candidates);
  const cover = coverRows(matrix, order, 1);
  const greedy = greedyCover(cover);
  const found = smallestCover(cover, greedy.length, candidates.length <= 50 ? 2_000_000 : 20_000);
  // The greedy cover is within the size asked for, so a cover is always found.
  const columns = found.columns as readonly number[];
  return {
    bases: columns.map((column) => order[column] as number).sort((a, b) => a - b),
    unserved: cover.unserved,
    exact: found.lowerBound >= columns.length,
    lowerBound: Math.min(found.lowerBound, columns.length),
  };
}
