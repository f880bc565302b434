import { sumCovariance, ZERO_COVARIANCE } from '../../core/observation/uncertainty/local-covariance.js';
import { positionalUncertainty } from '../../core/observation/uncertainty/positional-uncertainty.js';
import type { DayVariance } from '../../records/reports/parts/day-variance.js';
import type { LocalCovariance } from '../../records/points/point.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { ReducedPoint } from '../../records/points/reduced-point.js';
import { bendReason } from '../bases/base-bend.js';
import { pointVerdict } from '../reduce/occupations/point-verdict.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';

/** Doubts that rest on the uncertainty, and are raised anew with it. */
const OF_UNCERTAINTY: readonly ProblemCode[] = ['point-base-residual', 'point-horizontal-95', 'point-vertical-95'];

/**
 * An occupation with the planning model's parts of its covariance times the factor of the day: what grows with the baseline, or the noise,
 * the slow errors and the age of the corrections too; pole, base, bend and geoid stay. What was rejected stays so.
 *
 * Given: an occupation as it was reduced; what the day says, which counts where it is applied; the setup. Returned: the same where it does not.
 */
export function scaledByDay(
  point: ReducedPoint,
  day: DayVariance | null,
  setup: Pick<ReductionSetup, 'tolerance'>,
): ReducedPoint {
  const { uncertainty, summary: before } = point;
  if (uncertainty === null || before === null || day?.isApplied !== true) return point;
  const { part, allowed: factor } = day;
  const whole = part === 'all' ? factor : 1;
  const parts = {
    noise: times(uncertainty.noise, whole),
    correlated: times(uncertainty.correlated, whole),
    baseline: times(uncertainty.baseline, factor),
    age: times(uncertainty.age, whole),
  };
  const { pole, base, bend } = uncertainty;
  const total = sumOf([...Object.values(parts), pole, base, bend]);
  const scaled = { ...uncertainty, ...parts, total };
  const summary = positionalUncertainty(total, point.position?.geoidHeightM === null ? null : scaled.geoidVarianceM2);
  const { tolerance } = setup;
  const reasons = point.reasons.filter((reason) => !OF_UNCERTAINTY.includes(reason));
  const bent = bendReason(scaled, tolerance);
  // A bend that only matters beside the rest matters less now: it refuses nothing that it left before.
  if (bent !== null && point.reasons.includes('point-base-residual')) reasons.push('point-base-residual');
  if (tolerance.horizontalM !== null && summary.circle95M > tolerance.horizontalM) reasons.push('point-horizontal-95');
  if (tolerance.verticalM !== null && summary.vertical95M > tolerance.verticalM) reasons.push('point-vertical-95');
  return { ...point, uncertainty: scaled, summary, reasons, verdict: pointVerdict(reasons) };
}

function times({ eeM2, enM2, euM2, nnM2, nuM2, uuM2 }: LocalCovariance, factor: number): LocalCovariance {
  return {
    eeM2: factor * eeM2,
    enM2: factor * enM2,
    euM2: factor * euM2,
    nnM2: factor * nnM2,
    nuM2: factor * nuM2,
    uuM2: factor * uuM2,
  };
}

function sumOf(parts: readonly LocalCovariance[]): LocalCovariance {
  return parts.reduce(sumCovariance, ZERO_COVARIANCE);
}
