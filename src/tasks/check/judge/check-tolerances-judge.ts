import type { AxisSigns } from '../../../core/grid/systems/grid-axes.js';
import { chiSquareQuantile } from '../../../core/numeric/distributions/chi-square.js';
import { normalQuantile } from '../../../core/numeric/distributions/normal-quantile.js';
import { quadraticForm2 } from '../../../core/numeric/symmetric2.js';
import { CHECK_NOISE_LEVEL } from '../../../core/quality/decision-levels.js';
import { limitVerdicts } from '../../../core/quality/standards/limit-verdict.js';
import type { LimitRule } from '../../../core/quality/standards/limit-rule.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import { judgedBy } from './check-tolerances-judged-by.js';
import type { JudgedBy } from './check-tolerances-judged-by.js';
import type { CheckAxes, CheckRow, CheckVerdict } from './check-tolerances-setup.js';

/** A row before it is judged. */
export type UnjudgedRow = Omit<
  CheckRow,
  'limits' | 'verdict' | 'reasons' | 'horizontalStatistic' | 'verticalStatistic'
> & { readonly covariance: LocalCovariance | null };

/** Limits of the two statistics so that all rows together give a false alarm in CHECK_NOISE_LEVEL of clean runs. */
export interface NoiseLimits {
  readonly chiSquare: number;
  readonly z: number;
  /** Those of the axes that differences are along; covariances are along east and north. */
  readonly signs: AxisSigns;
}

/** Šidák's limits for a number of rows, in these axes, with a horizontal and a vertical test each. */
export function noiseLimits(rows: number, { signs }: CheckAxes): NoiseLimits {
  const p = Math.pow(1 - CHECK_NOISE_LEVEL, 1 / (2 * Math.max(1, rows)));
  return { chiSquare: chiSquareQuantile(p, 2), z: normalQuantile(0.5 + p / 2), signs };
}

/**
 * Judges a row, plan and height each for itself: where a limit is set for an axis it decides and the covariance is only
 * noted; an axis without a limit is held against its covariance; one with neither is for review, since nothing judged it.
 */
export function judgeRow(row: UnjudgedRow, rules: readonly LimitRule[], noise: NoiseLimits): CheckRow {
  const { firstM, secondM, upM, covariance } = row;
  const limits = limitVerdicts({ firstM, secondM, upM }, row.distanceM, rules);
  const horizontalStatistic =
    covariance === null || firstM === null || secondM === null
      ? null
      : quadraticForm2(
          { xx: covariance.eeM2, xy: covariance.enM2, yy: covariance.nnM2 },
          noise.signs[0] * firstM,
          noise.signs[1] * secondM,
        );
  const verticalStatistic =
    covariance === null || upM === null || !(covariance.uuM2 > 0) ? null : Math.abs(upM) / Math.sqrt(covariance.uuM2);
  const reasons: ProblemCode[] = [];
  for (const limit of limits) {
    const code: ProblemCode =
      limit.verdict === 'not-stated'
        ? 'check-not-stated'
        : limit.axis === 'up'
          ? 'check-vertical-limit'
          : 'check-horizontal-limit';
    if (limit.verdict !== 'within' && !reasons.includes(code)) reasons.push(code);
  }
  const noisyPlan = horizontalStatistic !== null && horizontalStatistic > noise.chiSquare;
  const noisyHeight = verticalStatistic !== null && verticalStatistic > noise.z;
  if (noisyPlan) reasons.push('check-horizontal-noise');
  if (noisyHeight) reasons.push('check-vertical-noise');
  const known = { firstM, secondM, upM, limits, horizontalStatistic, verticalStatistic };
  const axes = [
    { by: judgedBy(known, 'plan'), isNoisy: noisyPlan },
    { by: judgedBy(known, 'height'), isNoisy: noisyHeight },
  ];
  if (axes.some(({ by }) => by === 'nothing')) reasons.push('check-axis-unjudged');
  // Member by member: to spread the row takes longer than to judge it.
  return {
    check: row.check,
    pointId: row.pointId,
    occupation: row.occupation,
    against: row.against,
    firstM,
    secondM,
    upM,
    heightKind: row.heightKind,
    alongM: row.alongM,
    acrossM: row.acrossM,
    distanceM: row.distanceM,
    chainageM: row.chainageM,
    separationS: row.separationS,
    horizontalStatistic,
    verticalStatistic,
    limits,
    verdict: verdictOf(limits, axes),
    reasons,
    measured: row.measured,
    known: row.known,
    covariance,
    vector: row.vector,
  };
}

function verdictOf(
  limits: CheckRow['limits'],
  axes: readonly { readonly by: JudgedBy | null; readonly isNoisy: boolean }[],
): CheckVerdict {
  const isBeyond =
    limits.some(({ verdict }) => verdict === 'exceeds') ||
    axes.some(({ by, isNoisy }) => by === 'uncertainty' && isNoisy);
  if (isBeyond) return 'exceeds';
  const isJudged = axes.some(({ by }) => by === 'limit' || by === 'uncertainty');
  if (!isJudged || limits.some(({ verdict }) => verdict === 'not-stated')) return 'not-stated';
  return axes.some(({ by }) => by === 'nothing') ? 'review' : 'within';
}
