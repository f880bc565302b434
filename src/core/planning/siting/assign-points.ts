import type { DistanceMatrix } from './distance-matrix.js';

/** Which base serves each point. */
export interface PointAssignments {
  /** Per point: the candidate index of its base. */
  readonly base: Int32Array;
  /** Per point: distance over range to its base. */
  readonly ratio: Float64Array;
  /** Largest ratio over all points. */
  readonly worstRatio: number;
  /** A point that has it. */
  readonly worstPoint: number;
}

/** Gives every point the base with the smallest ratio, the earlier in `bases` when equal. At least one base. */
export function assignPoints(matrix: DistanceMatrix, bases: readonly number[]): PointAssignments {
  const base = new Int32Array(matrix.pointCount);
  const ratio = new Float64Array(matrix.pointCount).fill(Infinity);
  for (const candidate of bases) {
    const from = candidate * matrix.pointCount;
    for (let point = 0; point < matrix.pointCount; point += 1) {
      const trial = matrix.ratio[from + point] as number;
      if (trial < (ratio[point] as number)) {
        ratio[point] = trial;
        base[point] = candidate;
      }
    }
  }
  let worstPoint = 0;
  let worstRatio = -1;
  for (let point = 0; point < ratio.length; point += 1) {
    if ((ratio[point] as number) > worstRatio) {
      worstRatio = ratio[point] as number;
      worstPoint = point;
    }
  }
  return { base, ratio, worstRatio, worstPoint };
}
