import { errorProblem } from '../../../records/problem.js';
import { failure, success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import { assignPoints } from './assign-points.js';
import type { PointAssignments } from './assign-points.js';
import { preferenceOrder } from './candidate-filter.js';
import { coverRows } from './cover-rows.js';
import type { DistanceMatrix } from './distance-matrix.js';
import { kBasesApproximate } from './k-bases-approximate.js';
import { kBasesBound } from './k-bases-bound.js';
import type { BaseCandidate } from '../plan-point.js';
import { smallestCover } from './smallest-cover.js';

/** The best K bases among candidates. */
export interface KBases {
  /** Candidate indices, ascending; exactly K. */
  readonly bases: readonly number[];
  readonly assignments: PointAssignments;
  /** Largest distance over range when every point uses its best base. */
  readonly worstRatio: number;
  /** No K candidates have a smaller largest ratio than this. */
  readonly lowerBoundRatio: number;
  /** True: `worstRatio` is proved to be the least possible. */
  readonly exact: boolean;
}

/** Up to this many candidates the answer is exact. */
export const EXACT_CANDIDATES = 50;

/**
 * The K candidates for which the largest ratio of distance to range over all points is smallest
 * (the discrete K-centre problem).
 *
 * Given: candidates and their matrix (at least one point); K ≥ 1. Returned: see `KBases`.
 * Problems: K below 1 or above the number of candidates, or no points (usage-invalid).
 * Up to 50 candidates: a binary search over the different ratios that occur, each step a set-cover
 * question answered exactly (NP-hard in general). Where fewer than K bases already reach the least
 * ratio, the others are added one by one so that the mean ratio falls most. Above 50 candidates, or
 * when the budget of search nodes runs out: farthest-first with improvement by exchange, and the
 * bound that was proved.
 * Reference: HOCHBAUM-1985 (search over the distances that occur).
 */
export function kBases(candidates: readonly BaseCandidate[], matrix: DistanceMatrix, k: number): Outcome<KBases> {
  if (!Number.isInteger(k) || k < 1 || k > candidates.length || matrix.pointCount === 0) {
    return failure(
      errorProblem('usage-invalid', {
        message: `${String(k)} bases cannot be chosen among ${String(candidates.length)} candidates for ${String(matrix.pointCount)} points`,
        received: String(k),
        expected: `a whole number from 1 to ${String(candidates.length)}, and at least one point`,
        hint: 'give fewer bases or more candidates',
      }),
    );
  }
  const order = preferenceOrder(candidates);
  const start = kBasesApproximate(matrix, order, k);
  const startRatio = assignPoints(matrix, start).worstRatio;
  if (k === 1) return success(finish(matrix, start, startRatio));
  if (candidates.length > EXACT_CANDIDATES) {
    return success(finish(matrix, start, kBasesBound(matrix, order, k, startRatio)));
  }
  const everything = assignPoints(matrix, order).worstRatio;
  const ratios = Float64Array.from(
    new Set(matrix.ratio.filter((ratio) => ratio >= everything && ratio <= startRatio)),
  ).sort();
  let low = 0;
  let high = ratios.length - 1;
  let best: readonly number[] = start;
  let proved = true;
  while (low < high) {
    const middle = (low + high) >>> 1;
    const found = smallestCover(coverRows(matrix, order, ratios[middle] as number), k);
    if (found.columns !== null) {
      high = middle;
      best = found.columns.map((column) => order[column] as number);
    } else {
      if (found.lowerBound <= k) proved = false;
      low = middle + 1;
    }
  }
  const worst = ratios[high] as number;
  if (best === start) {
    const found = smallestCover(coverRows(matrix, order, worst), k);
    if (found.columns !== null) best = found.columns.map((column) => order[column] as number);
  }
  const filled = fill(matrix, order, best, k);
  return success(finish(matrix, filled, proved ? worst : kBasesBound(matrix, order, k, worst)));
}

function finish(matrix: DistanceMatrix, bases: readonly number[], lowerBoundRatio: number): KBases {
  const sorted = [...bases].sort((a, b) => a - b);
  const assignments = assignPoints(matrix, sorted);
  const { worstRatio } = assignments;
  return { bases: sorted, assignments, worstRatio, lowerBoundRatio, exact: lowerBoundRatio >= worstRatio };
}

/** Adds candidates until there are K, each time the one that lowers the sum of ratios most (the preferred of equals). */
function fill(
  matrix: DistanceMatrix,
  order: readonly number[],
  bases: readonly number[],
  k: number,
): readonly number[] {
  const chosen = [...bases];
  while (chosen.length < k) {
    const { ratio } = assignPoints(matrix, chosen);
    let best = -1;
    let most = -1;
    for (const candidate of order) {
      if (chosen.includes(candidate)) continue;
      let gain = 0;
      for (let point = 0; point < matrix.pointCount; point += 1) {
        const saved = (ratio[point] as number) - (matrix.ratio[candidate * matrix.pointCount + point] as number);
        if (saved > 0) gain += saved;
      }
      if (gain > most) {
        most = gain;
        best = candidate;
      }
    }
    chosen.push(best);
  }
  return chosen;
}
