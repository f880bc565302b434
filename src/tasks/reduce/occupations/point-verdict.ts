import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { PointVerdict } from '../../../records/points/reduced-point.js';

/** Reasons that leave a point without a coordinate; every other reason asks for a review. */
const REJECTING: ReadonlySet<ProblemCode> = new Set<ProblemCode>([
  'point-no-accepted-epoch',
  'point-no-epochs',
  'point-too-few-epochs',
  'point-too-short',
  'point-epochs-disagree',
  'point-antenna-moving',
  'point-base-residual-large',
]);

/** Reasons that are said and raise no doubt: what they tell of is in the covariance. */
const NOTES: ReadonlySet<ProblemCode> = new Set<ProblemCode>(['point-repeat-too-soon']);

/** Accepted without reasons, or with notes alone; rejected where one of them rejects; otherwise review. */
export function pointVerdict(reasons: readonly ProblemCode[]): PointVerdict {
  if (reasons.every((reason) => NOTES.has(reason))) return 'accepted';
  return reasons.some((reason) => REJECTING.has(reason)) ? 'rejected' : 'review';
}
