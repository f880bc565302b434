import { chiSquareQuantile } from '../core/numeric/chi-square.js';
import { normalQuantile } from '../core/numeric/normal-quantile.js';
import { quadraticForm2 } from '../core/numeric/symmetric2.js';
import { limitVerdicts } from '../core/quality/limit-verdict.js';
import type { LimitRule } from '../core/quality/limit-rule.js';
import type { LocalCovariance } from '../records/point.js';
import type { ProblemCode } from '../records/problem-codes.js';
import type { CheckRow, CheckVerdict } from './check-tolerances-setup.js';

/** A row before it is judged. */
export type UnjudgedRow = Omit<CheckRow, 'limits' | 'verdict' | 'reasons' | 'horizontalStatistic' | 'verticalStatistic'> & { readonly covariance: LocalCovariance | null };

/** Limits of the two statistics so that all rows together give a false alarm in 5 % of clean runs. */
export interface NoiseLimits {
  readonly chiSquare: number;
  readonly z: number;
}

/** Šidák's limits for a number of rows with a horizontal and a vertical test each. */
export function noiseLimits(rows: number): NoiseLimits {
  const p = Math.pow(0.95, 1 / (2 * Math.max(1, rows)));
  return { chiSquare: chiSquareQuantile(p, 2), z: normalQuantile(0.5 + p / 2) };
}

/**
 * Judges a row: every limit that applies, and the difference against its covariance. Where limits apply they decide and
 * the covariance is only noted; where none does, the covariance decides.
 */
export function judgeRow(row: UnjudgedRow, rules: readonly LimitRule[], noise: NoiseLimits): CheckRow {
  const { firstM, secondM, upM, covariance } = row;
  const limits = limitVerdicts({ firstM, secondM, upM }, row.distanceM, rules);
  const horizontalStatistic =
    covariance === null || firstM === null || secondM === null ? null : quadraticForm2({ xx: covariance.eeM2, xy: covariance.enM2, yy: covariance.nnM2 }, firstM, secondM);
  const verticalStatistic = covariance === null || upM === null || !(covariance.uuM2 > 0) ? null : Math.abs(upM) / Math.sqrt(covariance.uuM2);
  const reasons: ProblemCode[] = [];
  for (const limit of limits) {
    const code: ProblemCode = limit.verdict === 'not-stated' ? 'check-not-stated' : limit.axis === 'up' ? 'check-vertical-limit' : 'check-horizontal-limit';
    if (limit.verdict !== 'within' && !reasons.includes(code)) reasons.push(code);
  }
  const noisyPlan = horizontalStatistic !== null && horizontalStatistic > noise.chiSquare;
  const noisyHeight = verticalStatistic !== null && verticalStatistic > noise.z;
  if (noisyPlan) reasons.push('check-horizontal-noise');
  if (noisyHeight) reasons.push('check-vertical-noise');
  return { ...row, limits, horizontalStatistic, verticalStatistic, reasons, verdict: verdictOf(limits, horizontalStatistic, verticalStatistic, noisyPlan || noisyHeight) };
}

function verdictOf(limits: CheckRow['limits'], horizontal: number | null, vertical: number | null, isNoisy: boolean): CheckVerdict {
  if (limits.some(({ verdict }) => verdict === 'exceeds')) return 'exceeds';
  if (limits.some(({ verdict }) => verdict === 'not-stated')) return 'not-stated';
  if (limits.length > 0) return 'within';
  if (horizontal === null && vertical === null) return 'not-stated';
  return isNoisy ? 'exceeds' : 'within';
}
