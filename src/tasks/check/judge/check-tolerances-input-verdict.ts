import { isUnchecked } from '../../../core/quality/unchecked-points.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { CheckReport } from '../../../records/reports/check-report.js';
import type { CheckRow } from './check-tolerances-setup.js';

/**
 * A row with what the reduction already said of its points: what was rejected stays rejected and what was for review stays
 * so, however small the difference is. In a repeat both sides are measured points.
 */
export function withInputVerdict(row: CheckRow): CheckRow {
  const { measured, known } = row;
  const isRepeat = row.check === 'repeat' || row.check === 'base-pair';
  if (isUndoubted(measured) && (!isRepeat || isUndoubted(known))) return row;
  const points = [measured, isRepeat ? known : null].flatMap((placed) => (placed === null ? [] : [placed.row]));
  if (points.some(({ verdict }) => verdict === 'rejected')) {
    const reasons: readonly ProblemCode[] = row.reasons.includes('check-no-coordinate')
      ? row.reasons
      : [...row.reasons, 'check-point-rejected'];
    return { ...row, verdict: row.verdict === 'not-stated' ? 'not-stated' : 'exceeds', reasons };
  }
  return {
    ...row,
    verdict: row.verdict === 'within' ? 'review' : row.verdict,
    reasons: [
      ...row.reasons,
      'check-point-review',
      ...(points.some(isUnchecked) ? (['network-unchecked'] as const) : []),
    ],
  };
}

/** Nothing is said of a point that was not read, and of most that were. */
function isUndoubted(placed: CheckRow['measured']): boolean {
  if (placed === null) return true;
  const { verdict } = placed.row;
  return verdict !== 'rejected' && verdict !== 'review';
}

/** How many points the reduction rejected, how many it left for review, which they are, each once, and how many of these nothing checked. */
export function inputDoubts(points: Iterable<PointRow>): CheckReport['inputDoubts'] {
  let [rejected, review, unchecked] = [0, 0, 0];
  const rejectedIds = new Set<string>();
  const reviewIds = new Set<string>();
  for (const point of points) {
    if (point.verdict === 'rejected') {
      rejected += 1;
      rejectedIds.add(point.pointId);
    } else if (point.verdict === 'review') {
      review += 1;
      reviewIds.add(point.pointId);
      if (isUnchecked(point)) unchecked += 1;
    }
  }
  return { rejected, review, unchecked, rejectedIds: [...rejectedIds], reviewIds: [...reviewIds] };
}
