import type { JointTest } from '../../core/quality/joint-test.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { pointVerdict } from '../reduce/occupations/point-verdict.js';

/** An occupation whose point contradicts itself: known only once all occupations are. */
export interface DisputedStand {
  /** Its place among the occupations of the run, and so among their rows, from 0. */
  readonly row: number;
  readonly pointId: string;
  readonly occupation: string;
  /** It had no doubt of its own. */
  readonly wasAccepted: boolean;
  /** To be added to its own. */
  readonly reasons: readonly ProblemCode[];
}

/** Why an occupation of a point whose occupations disagree is for review. Given: the comparison; its place among those compared. */
export function disputeReasons(
  {
    test,
    polesDiffer,
    isTooSoon,
  }: { readonly test: JointTest; readonly polesDiffer: boolean; readonly isTooSoon: boolean },
  place: number,
): readonly ProblemCode[] {
  return [
    'point-repeat-disagrees',
    ...(test.odd === place ? (['point-repeat-odd'] as const) : []),
    ...(isTooSoon ? (['point-repeat-too-soon'] as const) : []),
    ...(polesDiffer ? (['point-pole-length-changed'] as const) : []),
  ];
}

/** An occupation with reasons more, and the verdict that they make together. */
export function withReasons<T extends Pick<ReducedPoint, 'reasons' | 'verdict'>>(
  point: T,
  added: readonly ProblemCode[],
): T {
  const reasons = [...point.reasons, ...added.filter((code) => !point.reasons.includes(code))];
  return { ...point, reasons, verdict: pointVerdict(reasons) };
}
