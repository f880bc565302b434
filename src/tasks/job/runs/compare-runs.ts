import { covarianceFromSigmas } from '../../../core/observation/uncertainty/local-covariance.js';
import { CHI_SQUARE_2_95, VERTICAL_95 } from '../../../core/observation/uncertainty/confidence-factors.js';
import { repeatTest } from '../../../core/observation/repeats/repeat-test.js';
import { SAME_OBSERVATIONS_SHARE } from '../../../core/quality/decision-levels.js';
import { movedShareLimits, shareOfOwn95 } from '../../../core/quality/moved-share.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { PointRow } from '../../../records/points/point-row.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { Answer } from '../../../records/runs/run-answer.js';
import { placePoint } from '../../check/compare/check-tolerances-place.js';
import { baseOf, standEstimate } from '../../check/compare/check-tolerances-stands.js';
import type { CheckSetup, PlacedPoint } from '../../check/judge/check-tolerances-setup.js';
import { pairRuns } from './pair-runs.js';
import type { RunPair } from './pair-runs.js';

/** Lengths that a movement may have; null: the uncertainty judges it. Metres. */
export interface MovementLimits {
  readonly horizontalM: number | null;
  readonly verticalM: number | null;
}

/** `same`: the same epochs were reduced twice; `other`: they were observed anew. */
export type RunObservations = 'same' | 'other';

/** What became of a point from one run to the other. */
export interface RunChange {
  readonly pointId: string;
  readonly occupation: string;
  readonly change: 'kept' | 'undecided' | 'moved' | 'appeared' | 'vanished';
  /** Null: it has a place in one run only. */
  readonly observations: RunObservations | null;
  /** Later minus earlier, true axes, metres; null: not compared. */
  readonly eastM: number | null;
  readonly northM: number | null;
  readonly upM: number | null;
  readonly heightKind: 'orthometric' | 'ellipsoidal' | null;
  /** Of the difference, m²; null where the observations are the same, or no sigmas are stated. */
  readonly covariance: LocalCovariance | null;
  /** The movement in shares of its 95 %. */
  readonly horizontalShare: number | null;
  readonly verticalShare: number | null;
  readonly verdictBefore: string;
  readonly verdictAfter: string;
  readonly verdict: Answer;
  readonly reasons: readonly ProblemCode[];
  /** Of the later run where it has one. */
  readonly place: PlacedPoint | null;
  /** What base and set-up share in it is not known. */
  readonly hasUnknownSetup: boolean;
}

/**
 * Two runs point by point: what moved by how much against its uncertainty, what appeared, vanished and changed its verdict.
 *
 * Given: the rows of both, of one system; the setup, whose bases say what set-ups share; limits. Returned: see `RunChange`, in the order of
 * the later run, then what only the earlier has. See docs/methods/run-comparison.md.
 */
export function compareRuns(
  before: readonly PointRow[],
  after: readonly PointRow[],
  setup: CheckSetup,
  limits: MovementLimits,
): readonly RunChange[] {
  const pairs = pairRuns(before, after);
  const compared = pairs.filter((pair) => pair.before !== null && pair.after !== null).length;
  const judge = { setup, limits, shares: movedShareLimits(compared) };
  return pairs.map((pair) => changeOf(pair, judge));
}

interface Judge {
  readonly setup: CheckSetup;
  readonly limits: MovementLimits;
  readonly shares: ReturnType<typeof movedShareLimits>;
}

const NOT_COMPARED = {
  observations: null,
  eastM: null,
  northM: null,
  upM: null,
  heightKind: null,
  covariance: null,
  horizontalShare: null,
  verticalShare: null,
  hasUnknownSetup: false,
} as const;

function changeOf({ before, after }: RunPair<PointRow>, judge: Judge): RunChange {
  const row = (after ?? before) as PointRow;
  // No verdict: the point is new.
  const verdictBefore = before?.verdict ?? '';
  // No verdict: the point is gone.
  const verdictAfter = after?.verdict ?? '';
  const head = { pointId: row.pointId, occupation: row.occupation, verdictBefore, verdictAfter };
  const place = hasPlace(row) ? placePoint(row, judge.setup) : null;
  if (before === null || after === null) {
    const isNew = before === null;
    const reasons: readonly ProblemCode[] = [isNew ? 'run-point-appeared' : 'run-point-vanished'];
    return { ...head, ...NOT_COMPARED, change: isNew ? 'appeared' : 'vanished', verdict: 'review', reasons, place };
  }
  const changed: readonly ProblemCode[] = verdictBefore === verdictAfter ? [] : ['run-verdict-changed'];
  if (!hasPlace(before) || place === null) {
    // A point rejected in either has no place to compare; in both, nothing changed.
    const isLost = hasPlace(before) !== hasPlace(after);
    const reasons = isLost && changed.length === 0 ? (['run-verdict-changed'] as const) : changed;
    return {
      ...head,
      ...NOT_COMPARED,
      change: 'kept',
      verdict: reasons.length > 0 ? 'review' : 'within',
      reasons,
      place,
    };
  }
  const moved = movement(placePoint(before, judge.setup), place, judge);
  const reasons = [...moved.reasons, ...changed];
  const verdict = moved.change === 'moved' ? 'no' : reasons.length > 0 ? 'review' : 'within';
  return { ...head, ...moved, verdict, reasons, place };
}

function hasPlace({ gridFirst, latitudeDeg }: PointRow): boolean {
  return gridFirst !== null || latitudeDeg !== null;
}

type Moved = Omit<RunChange, 'pointId' | 'occupation' | 'verdictBefore' | 'verdictAfter' | 'verdict' | 'place'>;

function movement(before: PlacedPoint, after: PlacedPoint, { setup, limits, shares }: Judge): Moved {
  const estimates = (share: 'most' | 'none'): ReturnType<typeof repeatTest> =>
    repeatTest(
      standEstimate(before, before, setup, share, 0),
      standEstimate(after, before, setup, share, 1),
      // A baseline that is not known is no longer than any.
      setup.precision.at(Math.max(before.row.baselineM ?? 0, after.row.baselineM ?? 0), null),
    );
  const most = estimates('most');
  const heightKind = kindOfBoth(before, after);
  const [eastM, northM] = [most.differenceEastM, most.differenceNorthM];
  const upM = heightKind === null ? null : most.differenceUpM;
  const horizontalM = Math.hypot(eastM, northM);
  const common = { eastM, northM, upM, heightKind };
  const hasSigmas = ownCovariance(before) !== null && ownCovariance(after) !== null;
  const own = ownCovariance(after) ?? ownCovariance(before);
  if (areSameObservations(before.row, after.row)) {
    const ofOwn = own === null ? null : shareOfOwn95(horizontalM, upM, own);
    const state = judged(limits, horizontalM, upM, heightsDiffer(before, after), (axis) =>
      ofOwn?.[axis] == null ? null : [ofOwn[axis], ofOwn[axis], SAME_OBSERVATIONS_SHARE],
    );
    return {
      ...common,
      ...state,
      observations: 'same',
      covariance: null,
      horizontalShare: ofOwn?.horizontal ?? null,
      verticalShare: ofOwn?.vertical ?? null,
      hasUnknownSetup: false,
    };
  }
  const hasUnknownSetup = baseOf(before, setup) === undefined || baseOf(after, setup) === undefined;
  const least = hasUnknownSetup ? estimates('none') : most;
  const shareOf = (test: typeof most, axis: 'horizontal' | 'vertical'): number =>
    axis === 'horizontal'
      ? Math.sqrt(test.horizontalStatistic / CHI_SQUARE_2_95)
      : test.verticalStatistic / VERTICAL_95;
  const state = judged(limits, horizontalM, upM, heightsDiffer(before, after), (axis) =>
    hasSigmas ? [shareOf(most, axis), shareOf(least, axis), shares[axis]] : null,
  );
  return {
    ...common,
    ...state,
    observations: 'other',
    covariance: hasSigmas ? most.covariance : null,
    horizontalShare: hasSigmas ? shareOf(most, 'horizontal') : null,
    verticalShare: hasSigmas && upM !== null ? shareOf(most, 'vertical') : null,
    hasUnknownSetup: hasSigmas && hasUnknownSetup,
  };
}

/** The largest and the least share that the movement may have of its 95 %, and the share that is beyond. */
type Shares = readonly [number, number, number] | null;

/** An axis that has a limit is judged by it, another by its uncertainty. */
function judged(
  limits: MovementLimits,
  horizontalM: number,
  upM: number | null,
  areHeightsOdd: boolean,
  sharesOf: (axis: 'horizontal' | 'vertical') => Shares,
): Pick<Moved, 'change' | 'reasons'> {
  const reasons: ProblemCode[] = [];
  let change: 'kept' | 'undecided' | 'moved' = 'kept';
  const say = (code: ProblemCode, next: typeof change): void => {
    if (!reasons.includes(code)) reasons.push(code);
    if (change !== 'moved') change = next;
  };
  for (const axis of ['horizontal', 'vertical'] as const) {
    const valueM = axis === 'horizontal' ? horizontalM : upM === null ? null : Math.abs(upM);
    if (valueM === null) continue;
    const limitM = limits[`${axis}M`];
    const shares = sharesOf(axis);
    if (limitM !== null) {
      if (valueM > limitM) say(axis === 'horizontal' ? 'check-horizontal-limit' : 'check-vertical-limit', 'moved');
    } else if (shares === null) say('check-axis-unjudged', 'undecided');
    else if (shares[1] > shares[2]) say('run-point-moved', 'moved');
    else if (shares[0] > shares[2]) say('check-setup-unknown', 'undecided');
  }
  if (areHeightsOdd) say('check-axis-unjudged', 'undecided');
  return { change, reasons };
}

/** The same base at the same time: nobody measures a point twice at once. */
function areSameObservations(a: PointRow, b: PointRow): boolean {
  if (a.firstEpochMs === null || a.lastEpochMs === null || b.firstEpochMs === null || b.lastEpochMs === null)
    return false;
  return a.baseId === b.baseId && a.firstEpochMs <= b.lastEpochMs && b.firstEpochMs <= a.lastEpochMs;
}

function ownCovariance({ row }: PlacedPoint): LocalCovariance | null {
  const { sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn } = row;
  return sigmaEastM === null || sigmaNorthM === null || sigmaUpM === null
    ? null
    : covarianceFromSigmas(sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn);
}

function kindOfBoth(a: PlacedPoint, b: PlacedPoint): RunChange['heightKind'] {
  if (a.orthometricHeightM !== null && b.orthometricHeightM !== null) return 'orthometric';
  return a.ellipsoidalHeightM !== null && b.ellipsoidalHeightM !== null ? 'ellipsoidal' : null;
}

/** One has a height and the other none of its kind. */
function heightsDiffer(a: PlacedPoint, b: PlacedPoint): boolean {
  const has = (point: PlacedPoint): boolean => point.orthometricHeightM !== null || point.ellipsoidalHeightM !== null;
  return kindOfBoth(a, b) === null && (has(a) || has(b));
}
