import { assignPoints } from './assign-points.js';
import type { DistanceMatrix } from './distance-matrix.js';

/**
 * K candidates by farthest-first and exchange; good, not proved best.
 *
 * Given: the matrix; candidate indices in order of preference; K, at least 1 and at most their
 * number. Returned: K candidate indices. Start with the best single candidate (with K = 1 that is the answer, exactly); while there are
 * fewer than K, add the one nearest (in ratio) to the point worst served. Then exchange one base
 * for another while the largest ratio falls. With equal ranges farthest-first is within 3 times the
 * least ratio (HOCHBAUM-1986, candidates apart from points); the exchange only improves it. With
 * unequal ranges no factor is claimed: use `kBasesBound`.
 */
export function kBasesApproximate(matrix: DistanceMatrix, order: readonly number[], k: number): readonly number[] {
  const chosen: number[] = [bestSingle(matrix, order)];
  while (chosen.length < k) {
    const { worstPoint } = assignPoints(matrix, chosen);
    chosen.push(nearestFree(matrix, order, chosen, worstPoint));
  }
  for (let round = 0; round < 100; round += 1) {
    if (!exchange(matrix, order, chosen)) break;
  }
  return chosen;
}

function bestSingle(matrix: DistanceMatrix, order: readonly number[]): number {
  let best = order[0] as number;
  let least = Infinity;
  for (const candidate of order) {
    let worst = 0;
    for (let point = 0; point < matrix.pointCount; point += 1) {
      worst = Math.max(worst, matrix.ratio[candidate * matrix.pointCount + point] as number);
    }
    if (worst < least) {
      least = worst;
      best = candidate;
    }
  }
  return best;
}

function nearestFree(
  matrix: DistanceMatrix,
  order: readonly number[],
  chosen: readonly number[],
  point: number,
): number {
  let best = -1;
  let least = Infinity;
  for (const candidate of order) {
    if (chosen.includes(candidate)) continue;
    const ratio = matrix.ratio[candidate * matrix.pointCount + point] as number;
    if (best < 0 || ratio < least) {
      least = ratio;
      best = candidate;
    }
  }
  return best;
}

/** Makes the exchange that lowers the largest ratio most; false when none does. */
function exchange(matrix: DistanceMatrix, order: readonly number[], chosen: number[]): boolean {
  const { pointCount } = matrix;
  const now = assignPoints(matrix, chosen);
  // Per point: which base is best, and the ratio of the second best.
  const bestAt = new Int32Array(pointCount);
  const second = new Float64Array(pointCount).fill(Infinity);
  for (let point = 0; point < pointCount; point += 1) {
    let least = Infinity;
    chosen.forEach((candidate, place) => {
      const ratio = matrix.ratio[candidate * pointCount + point] as number;
      if (ratio < least) {
        second[point] = least;
        least = ratio;
        bestAt[point] = place;
      } else if (ratio < (second[point] as number)) second[point] = ratio;
    });
  }
  let bestWorst = now.worstRatio;
  let into = -1;
  let out = -1;
  const worstWithout = new Float64Array(chosen.length);
  for (const candidate of order) {
    const from = candidate * pointCount;
    // Only a candidate nearer to the worst point can help.
    if (chosen.includes(candidate) || (matrix.ratio[from + now.worstPoint] as number) >= bestWorst) continue;
    worstWithout.fill(0);
    let kept = 0;
    for (let point = 0; point < pointCount; point += 1) {
      const entering = matrix.ratio[from + point] as number;
      const place = bestAt[point] as number;
      const stay = Math.min(entering, now.ratio[point] as number);
      const leave = Math.min(entering, second[point] as number);
      if (leave > (worstWithout[place] as number)) worstWithout[place] = leave;
      if (stay > kept) kept = stay;
    }
    for (let place = 0; place < chosen.length; place += 1) {
      // A base's own points are no better after it leaves, so counting them in `kept` too changes nothing.
      const worst = Math.max(worstWithout[place] as number, kept);
      if (worst < bestWorst) {
        bestWorst = worst;
        into = candidate;
        out = place;
      }
    }
  }
  if (into < 0) return false;
  chosen[out] = into;
  return true;
}
