import type { DistanceMatrix } from './distance-matrix.js';

/** Two neighbouring bases and the points both can serve. */
export interface OverlapTie {
  /** Candidate indices of the two bases, the earlier in the list of bases first. */
  readonly baseA: number;
  readonly baseB: number;
  /** Points within range of both, the most evenly and closely served first. */
  readonly points: readonly number[];
  /** True when there are at least `minimum` such points. */
  readonly enough: boolean;
}

/** How many points two neighbouring bases should share, so that a difference between them shows. */
export const MINIMUM_TIES = 3;

/**
 * The points to observe from both of two neighbouring bases, so that their coordinates can be
 * compared and joined.
 *
 * Given: the matrix; the chosen bases (candidate indices, at least one); how many ties are asked
 * for. Returned: one entry for each pair of neighbours: the pairs of a minimum spanning tree, where
 * the length of a pair is the smallest, over all points, of the larger of its two ratios. So every base is
 * tied to the rest in the way that asks the least range. Points are listed by the larger of the two
 * ratios, then by index. A pair without shared points is listed with none: those bases are not tied.
 *
 * Source: common practice, no published source (two or three common points at each transition).
 */
export function overlapTies(
  matrix: DistanceMatrix,
  bases: readonly number[],
  minimum: number = MINIMUM_TIES,
): readonly OverlapTie[] {
  const ties: OverlapTie[] = [];
  const joined = bases.slice(0, 1);
  const apart = bases.slice(1);
  while (apart.length > 0) {
    let best = [joined[0] as number, apart[0] as number] as const;
    let least = Infinity;
    for (const a of joined) {
      for (const b of apart) {
        const length = pairLength(matrix, a, b);
        if (length < least) {
          least = length;
          best = [a, b];
        }
      }
    }
    const [inside, outside] = best;
    joined.push(outside);
    apart.splice(apart.indexOf(outside), 1);
    const [baseA, baseB] = bases.indexOf(inside) < bases.indexOf(outside) ? [inside, outside] : [outside, inside];
    const points = sharedPoints(matrix, baseA, baseB);
    ties.push({ baseA, baseB, points, enough: points.length >= minimum });
  }
  return ties;
}

function largerRatio(matrix: DistanceMatrix, a: number, b: number, point: number): number {
  return Math.max(
    matrix.ratio[a * matrix.pointCount + point] as number,
    matrix.ratio[b * matrix.pointCount + point] as number,
  );
}

function pairLength(matrix: DistanceMatrix, a: number, b: number): number {
  let least = Infinity;
  for (let point = 0; point < matrix.pointCount; point += 1) least = Math.min(least, largerRatio(matrix, a, b, point));
  return least;
}

function sharedPoints(matrix: DistanceMatrix, a: number, b: number): readonly number[] {
  const shared: { readonly point: number; readonly ratio: number }[] = [];
  for (let point = 0; point < matrix.pointCount; point += 1) {
    const ratio = largerRatio(matrix, a, b, point);
    if (ratio <= 1) shared.push({ point, ratio });
  }
  return shared.sort((p, q) => p.ratio - q.ratio || p.point - q.point).map(({ point }) => point);
}
