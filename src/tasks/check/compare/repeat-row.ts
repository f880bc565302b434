import type { RepeatTest } from '../../../core/observation/repeats/repeat-test.js';
import { limitVerdicts } from '../../../core/quality/standards/limit-verdict.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import { present } from '../../../records/present.js';
import type { CheckRow, CheckSetup, CheckVerdict, PlacedPoint } from '../judge/check-tolerances-setup.js';
import { placeDifference } from './check-tolerances-difference.js';
import type { judgeRepeats } from './check-tolerances-stands.js';

/** Two occupations of a point and how they compare. */
export interface ComparedPair {
  readonly first: PlacedPoint;
  readonly second: PlacedPoint;
  /** What the two occupations are called. */
  readonly names: readonly [string, string];
  readonly pair: RepeatTest;
  /** From two bases. */
  readonly isPair: boolean;
  readonly inDispute: boolean;
  /** So soon after one another that nothing is gained by them. */
  readonly isUnproved: boolean;
  /** The uncertainty of both is known: without it no difference is large or small. */
  readonly isSure: boolean;
}

/** The row of two occupations of a point, judged. */
export function rowOfPair(
  { first, second, names, pair, isPair, inDispute, isUnproved, isSure }: ComparedPair,
  { distanceM, test, isUndecided }: ReturnType<typeof judgeRepeats>,
  setup: CheckSetup,
): CheckRow {
  const difference = placeDifference(second, first, setup);
  const limits = limitVerdicts(difference, distanceM, setup.repeatRules);
  const hasUp = difference.upM !== null;
  const isTooSoon = pair.tooSoon === true;
  const isUnjudged = !isSure && hasUnlimited(limits, hasUp);
  return {
    check: isPair ? 'base-pair' : 'repeat',
    pointId: first.row.pointId,
    occupation: names[1],
    against: isPair ? `${names[0]} from ${present(first.row.baseId, 'baseId')}` : names[0],
    firstM: difference.firstM,
    secondM: difference.secondM,
    upM: difference.upM,
    heightKind: difference.heightKind,
    alongM: null,
    acrossM: null,
    distanceM: distanceM > 0 ? distanceM : null,
    chainageM: null,
    separationS: pair.separationS,
    horizontalStatistic: isSure ? pair.horizontalStatistic : null,
    verticalStatistic: hasUp && isSure ? pair.verticalStatistic : null,
    limits,
    verdict: verdictOf(
      limits,
      inDispute && !isUndecided && isOpenlyApart(limits, pair, hasUp, test.limit),
      (isTooSoon && limits.length > 0) || isUnproved || (inDispute && isUndecided) || isUnjudged,
      isUnjudged && limits.length === 0,
    ),
    reasons: [
      ...reasonsOf(limits, inDispute, isUndecided, isTooSoon),
      ...(isUnjudged ? (['check-axis-unjudged'] as const) : []),
    ],
    measured: second,
    known: first,
    covariance: isSure ? pair.covariance : null,
    vector: null,
  };
}

function reasonsOf(
  limits: CheckRow['limits'],
  inDispute: boolean,
  isUndecided: boolean,
  isTooSoon: boolean,
): readonly ProblemCode[] {
  const reasons: ProblemCode[] = [];
  if (limits.some((limit) => limit.verdict === 'exceeds' && limit.axis !== 'up'))
    reasons.push('check-horizontal-limit');
  if (limits.some((limit) => limit.verdict === 'exceeds' && limit.axis === 'up')) reasons.push('check-vertical-limit');
  if (limits.some((limit) => limit.verdict === 'not-stated')) reasons.push('check-not-stated');
  if (inDispute) reasons.push(isUndecided ? 'check-setup-unknown' : 'check-repeat-noise');
  if (isTooSoon) reasons.push('check-repeat-too-soon');
  return reasons;
}

/** Whether a disagreement is beyond a limit's say: there is none at all, or none for the axis that alone is beyond the point's test. */
function isOpenlyApart(limits: CheckRow['limits'], pair: RepeatTest, hasUp: boolean, most: number): boolean {
  const isLimited = (up: boolean): boolean => limits.some(({ axis }) => (axis === 'up') === up);
  return (
    limits.length === 0 ||
    (!isLimited(false) && pair.horizontalStatistic > most) ||
    (hasUp && !isLimited(true) && pair.verticalStatistic ** 2 > most)
  );
}

/** Whether an axis that is compared has no limit. */
function hasUnlimited(limits: CheckRow['limits'], hasUp: boolean): boolean {
  const isLimited = (up: boolean): boolean => limits.some(({ axis }) => (axis === 'up') === up);
  return !isLimited(false) || (hasUp && !isLimited(true));
}

/** Limits decide for the axis they are of; what proves nothing, or is not decided, is for review, and what nothing judges cannot be stated. */
function verdictOf(
  limits: CheckRow['limits'],
  disagrees: boolean,
  isUnproved: boolean,
  isUnjudged: boolean,
): CheckVerdict {
  if (disagrees || limits.some(({ verdict }) => verdict === 'exceeds')) return 'exceeds';
  if (isUnjudged || limits.some(({ verdict }) => verdict === 'not-stated')) return 'not-stated';
  return isUnproved ? 'review' : 'within';
}
