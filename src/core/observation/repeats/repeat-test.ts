import type { LocalCovariance } from '../../../records/points/point.js';
import { quadraticForm2 } from '../../numeric/symmetric2.js';
import { CHI_SQUARE_2_95, VERTICAL_95 } from '../uncertainty/confidence-factors.js';
import {
  correlationAfter,
  middleSeparationS,
  RECORDING_VARIANCE_M2,
  sharedErrors,
  slowCross,
} from './occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from './occupation-estimate.js';

/** How two occupations of one point compare. */
export interface RepeatTest {
  /** Second minus first, metres. */
  readonly differenceEastM: number;
  readonly differenceNorthM: number;
  readonly differenceUpM: number;
  /** Covariance of the difference, m². */
  readonly covariance: LocalCovariance;
  /** ΔᵀC⁻¹Δ of east and north; its 95 % limit is 5.991. */
  readonly horizontalStatistic: number;
  /** |Δu|/σ; its 95 % limit is 1.960. */
  readonly verticalStatistic: number;
  readonly horizontalDisagrees: boolean;
  readonly verticalDisagrees: boolean;
  readonly disagrees: boolean;
  /** From the last epoch of the earlier to the first of the later, seconds, not below 0; null: times not stated. */
  readonly separationS: number | null;
  readonly requiredSeparationS: number;
  /** Null: times not stated. */
  readonly tooSoon: boolean | null;
}

/**
 * Shortest time between two occupations that count as independent: 30 minutes up to 10 km of baseline,
 * 60 up to 30 km, 120 beyond; an unknown baseline counts as long.
 *
 * Given: baseline, metres. Returned: seconds.
 *
 * Reference: computed from √((1 + e^{−D/τ})/2) at the correlation times of the planning model,
 * docs/methods/averaging.md, "Repeat occupations".
 */
export function requiredSeparationS(baselineM: number | null): number {
  if (baselineM === null || baselineM > 30_000) return 7200;
  return baselineM > 10_000 ? 3600 : 1800;
}

/**
 * Whether two occupations of a point agree within their uncertainty.
 *
 * C_Δ = C₁ + C₂ − 2 C₁₂. The error of one set-up of a base cancels; of two set-ups on one mark that of the mark
 * alone; slow errors cancel as far as they are still correlated, exp(−D/τ) at D between the middles; those that
 * grow with the baseline only when the mark is the same. East and north disagree where ΔᵀC_Δ⁻¹Δ exceeds 5.991, height where |Δu|
 * exceeds 1.960 σ_Δu.
 *
 * Given: the two estimates about one origin; correlation times. Returned: see `RepeatTest`.
 *
 * Notes:
 * 1. Each of the two tests rejects 5 % of true repeats; together they reject 9.75 %.
 * 2. Where times are not stated the slow errors are taken as independent.
 * 3. Agreement is no proof: a shared base and shared surroundings do not show.
 *
 * Reference: chi-square test of a difference with known covariance, NIST-HANDBOOK 1.3.6.7.4 for the
 * limit.
 *
 * @example
 * // 20 mm between two of 10 mm each: 20² / (10² + 10²), and half an hour asked for.
 * const none = { eeM2: 0, enM2: 0, euM2: 0, nnM2: 0, nuM2: 0, uuM2: 0 };
 * const parts = { independent: { ...none, eeM2: 1e-4, nnM2: 1e-4, uuM2: 4e-4 }, correlated: none, baseline: none };
 * const shared = { mark: none, setup: none, markKey: 'M', setupKey: 'S', baselineM: 5000, startMs: 0, endMs: 0 };
 * const [a, b] = [0, 0.02].map((eastM) => ({ position: { eastM, northM: 0, upM: 0 }, ...parts, ...shared }));
 * const test = repeatTest(a, { ...b, startMs: 600e3, endMs: 600e3 }, { correlationHorizontalS: 115, correlationVerticalS: 300 });
 * test.horizontalStatistic; // 2.000
 * [test.separationS, test.requiredSeparationS, test.tooSoon]; // [600, 1800, true]
 */
export function repeatTest(first: OccupationEstimate, second: OccupationEstimate, times: CorrelationTimes): RepeatTest {
  const middleS = middleSeparationS(first, second);
  const rhoH = middleS === null ? 0 : correlationAfter(middleS, times.correlationHorizontalS);
  const rhoV = middleS === null ? 0 : correlationAfter(middleS, times.correlationVerticalS);
  const apart = errorsApart(first, second);
  const entry = (key: keyof LocalCovariance): number =>
    first.independent[key] +
    second.independent[key] +
    first.correlated[key] +
    second.correlated[key] +
    first.baseline[key] +
    second.baseline[key] +
    apart.reduce((sum, covariance) => sum + covariance[key], 0);
  const axis = (key: 'eeM2' | 'nnM2' | 'uuM2', rho: number): number =>
    entry(key) + RECORDING_VARIANCE_M2 - 2 * slowCross(first, second, key, rho);
  const covariance: LocalCovariance = {
    eeM2: axis('eeM2', rhoH),
    enM2: entry('enM2'),
    euM2: entry('euM2'),
    nnM2: axis('nnM2', rhoH),
    nuM2: entry('nuM2'),
    uuM2: axis('uuM2', rhoV),
  };
  const differenceEastM = second.position.eastM - first.position.eastM;
  const differenceNorthM = second.position.northM - first.position.northM;
  const differenceUpM = second.position.upM - first.position.upM;
  const horizontal = { xx: covariance.eeM2, xy: covariance.enM2, yy: covariance.nnM2 };
  const horizontalStatistic =
    quadraticForm2(horizontal, differenceEastM, differenceNorthM) ??
    // East and north fully correlated: fall back to the larger of the two one-axis statistics.
    Math.max(differenceEastM ** 2 / covariance.eeM2, differenceNorthM ** 2 / covariance.nnM2);
  const verticalStatistic = Math.abs(differenceUpM) / Math.sqrt(covariance.uuM2);
  const horizontalDisagrees = horizontalStatistic > CHI_SQUARE_2_95;
  const verticalDisagrees = verticalStatistic > VERTICAL_95;
  const separationS = gapBetweenS(first, second);
  const required = requiredSeparationS(longer(first.baselineM, second.baselineM));
  return {
    differenceEastM,
    differenceNorthM,
    differenceUpM,
    covariance,
    horizontalStatistic,
    verticalStatistic,
    horizontalDisagrees,
    verticalDisagrees,
    disagrees: horizontalDisagrees || verticalDisagrees,
    separationS,
    requiredSeparationS: required,
    tooSoon: separationS === null ? null : separationS < required,
  };
}

/** The shared errors that only one of two occupations has; what both have falls out of their difference. */
function errorsApart(first: OccupationEstimate, second: OccupationEstimate): readonly LocalCovariance[] {
  const [a, b] = [sharedErrors(first), sharedErrors(second)];
  const only = (own: typeof a, other: typeof a): readonly LocalCovariance[] =>
    own.flatMap(([key, covariance]) => (other.some(([known]) => known === key) ? [] : [covariance]));
  return [...only(a, b), ...only(b, a)];
}

function longer(a: number | null, b: number | null): number | null {
  return a === null || b === null ? null : Math.max(a, b);
}

function gapBetweenS(a: OccupationEstimate, b: OccupationEstimate): number | null {
  if (a.startMs === null || a.endMs === null || b.startMs === null || b.endMs === null) return null;
  return Math.max(0, b.startMs - a.endMs, a.startMs - b.endMs) / 1000;
}
