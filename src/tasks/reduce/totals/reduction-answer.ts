import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { RunAnswer } from '../../../records/runs/run-answer.js';
import type { PointRepeat } from '../../repeats/repeat-pairs.js';
import type { ReductionTotals } from './reduction-totals.js';

/** Doubts that make the answer no, though the points have coordinates. */
const NO: readonly ProblemCode[] = ['point-horizontal-95', 'point-vertical-95', 'point-repeat-disagrees'];

/**
 * The answer of a reduction: no where there is no point at all, a point is rejected, a tolerance exceeded, repeats disagree
 * or rows were left out; review where a point is for review; else within. Given: the totals; rows left out on request; the
 * points with repeats, as far as they were compared; whether these are a part of a whole, which may have no point of its own.
 */
export function reductionAnswer(
  { points, reasons }: Pick<ReductionTotals, 'points' | 'reasons'>,
  rowsSkipped: number,
  repeats: readonly PointRepeat[] = [],
  isPart = false,
): RunAnswer {
  const isEmpty = points.accepted + points.review + points.rejected === 0;
  const isNo =
    (isEmpty && !isPart) ||
    points.rejected > 0 ||
    rowsSkipped > 0 ||
    NO.some((reason) => reasons.has(reason)) ||
    repeats.some(({ test }) => test.disagrees);
  return {
    answer: isNo ? 'no' : points.review > 0 ? 'review' : 'within',
    verdicts: new Map(Object.entries(points)),
    reasons,
  };
}
