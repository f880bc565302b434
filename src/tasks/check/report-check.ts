import { CHI_SQUARE_2_95, VERTICAL_95 } from '../../core/observation/uncertainty/confidence-factors.js';
import { positionalUncertainty } from '../../core/observation/uncertainty/positional-uncertainty.js';
import type { ReportCheck } from '../../records/reports/check-report.js';
import { judgedBy } from './judge/check-tolerances-judged-by.js';
import { tightest } from './judge/check-tolerances-setup.js';
import type { CheckRow } from './judge/check-tolerances-setup.js';

/** What exceeds is kept before what is in doubt, and that before the rest. */
export const NEED: Readonly<Record<CheckRow['verdict'], number>> = {
  within: 0,
  review: 1,
  'not-stated': 1,
  exceeds: 2,
};

/** A comparison as a page shows it. */
export function checkOf(row: CheckRow): ReportCheck {
  const { known, measured } = row;
  const at = known?.firstM === null || known?.firstM === undefined ? measured : known;
  return {
    kind: row.check,
    pointId: row.pointId,
    occupation: row.occupation,
    against: row.against,
    firstM: row.firstM,
    secondM: row.secondM,
    upM: row.upM,
    place:
      at?.firstM === null || at?.firstM === undefined || at.secondM === null
        ? null
        : { first: at.firstM, second: at.secondM },
    distanceM: row.distanceM,
    heightDifferenceM: row.vector?.heightDifferenceM ?? null,
    separationS: row.separationS,
    horizontalStatistic: finite(row.horizontalStatistic),
    verticalStatistic: finite(row.verticalStatistic),
    horizontalLimitM: tightest(row, 'horizontal')?.limitM ?? null,
    verticalLimitM: tightest(row, 'up')?.limitM ?? null,
    ...ninetyFiveOf(row),
    line: row.chainageM === null || row.acrossM === null ? null : { chainageM: row.chainageM, rightM: row.acrossM },
    verdict: row.verdict,
    exceeds: exceedsOf(row),
    reasons: row.reasons,
  };
}

/** The rows with the largest differences. */
export interface Worst {
  readonly plan: CheckRow | null;
  readonly height: CheckRow | null;
}

/** The worst so far: what exceeds in that axis before what does not, then the largest share of its limit, and of those without a limit the largest difference. */
export function worseOf({ plan, height }: Worst, row: CheckRow): Worst {
  const isFarther = isWorse(planOf(row), plan === null ? null : planOf(plan));
  const isHigher = isWorse(upOf(row), height === null ? null : upOf(height));
  return isFarther || isHigher ? { plan: isFarther ? row : plan, height: isHigher ? row : height } : { plan, height };
}

interface Sized {
  readonly sizeM: number;
  /** It is beyond its limit, or without one beyond its uncertainty. */
  readonly exceeds: boolean;
  /** Size over limit; 0 without a limit. */
  readonly share: number;
}

/** Null: nothing was compared. */
function isWorse(one: Sized | null, other: Sized | null): boolean {
  if (one === null || other === null) return one !== null;
  if (one.exceeds !== other.exceeds) return one.exceeds;
  return one.share > other.share || (one.share === other.share && one.sizeM > other.sizeM);
}

function planOf(row: CheckRow): Sized | null {
  const { firstM, secondM } = row;
  return firstM === null || secondM === null ? null : sized(Math.hypot(firstM, secondM), row, 'horizontal');
}

function upOf(row: CheckRow): Sized | null {
  return row.upM === null ? null : sized(Math.abs(row.upM), row, 'up');
}

function sized(sizeM: number, row: CheckRow, axis: 'horizontal' | 'up'): Sized {
  const limitM = tightest(row, axis)?.limitM ?? null;
  const exceeds = row.verdict === 'exceeds' && isBeyond(row, axis === 'up' ? 'height' : 'plan');
  return { sizeM, exceeds, share: limitM === null || limitM <= 0 ? 0 : sizeM / limitM };
}

function ninetyFiveOf({ covariance }: CheckRow): Pick<ReportCheck, 'circle95M' | 'vertical95M'> {
  if (covariance === null) return { circle95M: null, vertical95M: null };
  const { circle95M, vertical95M } = positionalUncertainty(covariance, null);
  return { circle95M: positive(circle95M), vertical95M: positive(vertical95M) };
}

function positive(value: number): number | null {
  return Number.isFinite(value) && value > 0 ? value : null;
}

/**
 * Which axis of a row that exceeds does: the one beyond its limit; where no limit is set for it, the one beyond the 95 % of
 * its uncertainty. A row that exceeds for neither, as where its point was rejected, exceeds in both.
 */
export function exceedsOf(row: CheckRow): ReportCheck['exceeds'] {
  if (row.verdict !== 'exceeds') return { plan: false, height: false };
  const plan = isBeyond(row, 'plan');
  const height = isBeyond(row, 'height');
  return plan || height ? { plan, height } : { plan: true, height: true };
}

function isBeyond(row: CheckRow, axis: 'plan' | 'height'): boolean {
  const by = judgedBy(row, axis);
  if (by === 'limit')
    return row.limits.some((limit) => (limit.axis === 'up') === (axis === 'height') && limit.verdict === 'exceeds');
  const statistic = axis === 'plan' ? row.horizontalStatistic : row.verticalStatistic;
  return by === 'uncertainty' && statistic !== null && statistic > (axis === 'plan' ? CHI_SQUARE_2_95 : VERTICAL_95);
}

function finite(value: number | null): number | null {
  return value === null || !Number.isFinite(value) ? null : value;
}
