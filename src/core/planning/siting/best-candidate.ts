import { InternalError } from '../../../records/internal-error.js';
import { compensatedSum } from '../../numeric/compensated-sum.js';
import { nthSmallestInPlace } from '../../numeric/median.js';
import { comparePreference } from './candidate-filter.js';
import type { DistanceMatrix, DistanceRow } from './distance-matrix.js';
import type { BaseCandidate } from '../plan-point.js';

/** How one candidate would serve all the points alone. */
export interface CandidateRank {
  /** Index into the candidates given. */
  readonly candidate: number;
  /** Largest distance over range; at most 1: it serves every point. */
  readonly worstRatio: number;
  readonly worstDistanceM: number;
  readonly meanDistanceM: number;
  /** The distance that 95 % of the points do not exceed (nearest rank). */
  readonly distance95M: number;
  readonly servedCount: number;
  /** Indices of the points at the largest ratio (within 1e-9 of it). */
  readonly worstPoints: readonly number[];
  /** 0 for those counted as good as the best; the steps of `tieFraction` by which it is worse. */
  readonly tieClass: number;
}

/**
 * Ranks candidates as the only base, best first.
 *
 * Given: the candidates; their matrix (at least one point); `tieFraction`, the relative difference
 * of the largest ratio below which two places count as equal (default 0.01: a hundredth in
 * distance is not worth a worse sky). Returned: one rank a candidate. The class of a candidate is
 * the number of whole `tieFraction` steps by which it is worse than the best, so being equal is
 * transitive. Within a class: preference (sky score, cost), then the ratio, then identifier. With 0
 * the ratio alone decides first.
 */
export function bestCandidate(
  candidates: readonly BaseCandidate[],
  matrix: DistanceMatrix,
  tieFraction = 0.01,
): readonly CandidateRank[] {
  const { pointCount } = matrix;
  const part = (values: Float64Array, index: number): Float64Array =>
    values.subarray(index * pointCount, (index + 1) * pointCount);
  return rankCandidates(
    candidates,
    (index) => ({ distanceM: part(matrix.distanceM, index), ratio: part(matrix.ratio, index) }),
    tieFraction,
  );
}

/** The same by rows that are asked for one after another, each once: the next may be written where the one before stood. */
export function rankCandidates(
  candidates: readonly BaseCandidate[],
  rowOf: (candidate: number) => DistanceRow,
  tieFraction: number,
): readonly CandidateRank[] {
  let room = new Float64Array(0);
  const ranks = candidates.map((_, index) => {
    const row = rowOf(index);
    if (room.length !== row.distanceM.length) room = new Float64Array(row.distanceM.length);
    return rankOf(row, index, room);
  });
  const best = ranks.reduce((least, rank) => Math.min(least, rank.worstRatio), Infinity);
  const classed = ranks.map((rank) => ({
    ...rank,
    tieClass: tieFraction > 0 ? tieClassOf(rank.worstRatio, best, tieFraction) : 0,
  }));
  const plain = tieFraction <= 0;
  return classed.sort((a, b) => {
    const first = candidates[a.candidate] as BaseCandidate;
    const second = candidates[b.candidate] as BaseCandidate;
    if (plain && a.worstRatio !== b.worstRatio) return a.worstRatio - b.worstRatio;
    if (a.tieClass !== b.tieClass) return a.tieClass - b.tieClass;
    const attributes = comparePreference({ ...first, id: '' }, { ...second, id: '' });
    return attributes || a.worstRatio - b.worstRatio || comparePreference(first, second) || a.candidate - b.candidate;
  });
}

/** Whole steps by which a ratio is worse than the best; where the best is 0, steps of the range itself. */
function tieClassOf(ratio: number, best: number, tieFraction: number): number {
  return best > 0 ? Math.floor((ratio / best - 1) / tieFraction + 1e-9) : Math.ceil(ratio / tieFraction);
}

function rankOf({ distanceM, ratio: ratios }: DistanceRow, candidate: number, room: Float64Array): CandidateRank {
  const pointCount = distanceM.length;
  if (pointCount === 0) throw new InternalError('candidates are ranked without points');
  let worstRatio = 0;
  let servedCount = 0;
  let worstDistanceM = 0;
  for (let point = 0; point < pointCount; point += 1) {
    const ratio = ratios[point] as number;
    if (ratio > worstRatio) worstRatio = ratio;
    if (ratio <= 1) servedCount += 1;
    const ownM = distanceM[point] as number;
    if (ownM > worstDistanceM) worstDistanceM = ownM;
  }
  const worstPoints: number[] = [];
  const alike = worstRatio * (1 - 1e-9);
  for (let point = 0; point < pointCount; point += 1) if ((ratios[point] as number) >= alike) worstPoints.push(point);
  room.set(distanceM);
  return {
    candidate,
    worstRatio,
    worstDistanceM,
    meanDistanceM: compensatedSum(distanceM) / pointCount,
    distance95M: nthSmallestInPlace(room, Math.ceil(0.95 * pointCount) - 1),
    servedCount,
    worstPoints,
    tieClass: 0,
  };
}
