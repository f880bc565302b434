import { chiSquareQuantile } from '../numeric/distributions/chi-square.js';
import { jointSquares } from '../observation/repeats/combine-occupations.js';
import type { JointSquares } from '../observation/repeats/combine-occupations.js';
import { ZERO_COVARIANCE } from '../observation/uncertainty/local-covariance.js';
import type { CorrelationTimes, OccupationEstimate } from '../observation/repeats/occupation-estimate.js';
import { ODD_STAND_LEAD, REPEATS_RUN_LEVEL } from './decision-levels.js';

/** Whether all occupations of a point agree, by one test. */
export interface JointTest {
  /** Weighted sum of the squared residuals of all occupations, plan and height together. */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
  /** What χ² must not exceed. */
  readonly limit: number;
  readonly disagrees: boolean;
  /** Place of the occupation that stands apart from the others, which agree; null: all agree, or none can be named. */
  readonly odd: number | null;
}

/** Which axes an occupation has. */
export interface StandAxes {
  readonly plan: boolean;
  readonly up: boolean;
}

/** An occupation with plan and height. */
export const BOTH_AXES: StandAxes = Object.freeze({ plan: true, up: true });

/** Of an axis that is not there, m²: counts for nothing. */
const UNKNOWN_VARIANCE_M2 = 1e6;

/**
 * The level of the test of each point, so that a run of true repeats raises an alarm with the stated chance, however many points.
 *
 * Given: number of points with repeats. Returned: chance of a false alarm for one. Reference: ŠIDÁK-1967 (from memory).
 */
export function repeatLevel(points: number): number {
  return -Math.expm1(Math.log1p(-REPEATS_RUN_LEVEL) / Math.max(1, points));
}

/**
 * One test of all occupations of a point: the χ² of their joining against its quantile. Where it fails and there are three or
 * more, the one whose leaving out makes the others agree is named, if no other comes near it.
 *
 * Given: estimates about one origin; correlation times; level of the test, above 0 and below 1; which axes each has, all where
 * absent. Returned: see `JointTest`.
 *
 * Notes: where times are not stated, slow errors count as new each time. Agreement is no proof: what all share does not show.
 *
 * Reference: chi-square test of generalised least squares, NIST-HANDBOOK 1.3.6.7.4 for the limit.
 */
export function jointTest(
  estimates: readonly OccupationEstimate[],
  times: CorrelationTimes,
  level: number,
  axes: readonly StandAxes[] | null = null,
): JointTest {
  const all = axes ?? estimates.map(() => BOTH_AXES);
  const known = axes === null ? estimates : estimates.map((estimate, index) => withoutAxes(estimate, axes[index]));
  return judgedSquares(jointSquares(known, times), all, level);
}

/**
 * The test of `jointTest` by squares that are known.
 *
 * Given: the squares; which axes each occupation has; the level.
 */
export function judgedSquares(
  { chiSquare, gains: gainsOf }: Pick<JointSquares, 'chiSquare' | 'gains'>,
  all: readonly StandAxes[],
  level: number,
): JointTest {
  const degreesOfFreedom = freedom(all);
  const limit = degreesOfFreedom === 0 ? 0 : quantiles(1 - level, degreesOfFreedom);
  const disagrees = degreesOfFreedom > 0 && chiSquare > limit;
  if (!disagrees || all.length < 3) return { chiSquare, degreesOfFreedom, limit, disagrees, odd: null };
  const gains = gainsOf();
  const [first = 0, second = 0] = gains
    .map((_, index) => index)
    .sort((a, b) => (gains[b] as number) - (gains[a] as number));
  const left = freedom(all.filter((_, index) => index !== first));
  const isOdd =
    left > 0 &&
    chiSquare - (gains[first] as number) <= quantiles(1 - level, left) &&
    (gains[first] as number) - (gains[second] as number) >= ODD_STAND_LEAD;
  return { chiSquare, degreesOfFreedom, limit, disagrees, odd: isOdd ? first : null };
}

/** A run asks for one level and few degrees of freedom, at each of its points. */
const quantiles = createQuantileMemory();

function createQuantileMemory(): typeof chiSquareQuantile {
  const known = new Map<number, number>();
  let lastP = NaN;
  return (p, degreesOfFreedom) => {
    if (p !== lastP) known.clear();
    lastP = p;
    const before = known.get(degreesOfFreedom);
    if (before !== undefined) return before;
    const quantile = chiSquareQuantile(p, degreesOfFreedom);
    known.set(degreesOfFreedom, quantile);
    return quantile;
  };
}

function freedom(axes: readonly StandAxes[]): number {
  const of = (has: (own: StandAxes) => boolean): number => Math.max(0, axes.filter(has).length - 1);
  return 2 * of(({ plan }) => plan) + of(({ up }) => up);
}

function withoutAxes(estimate: OccupationEstimate, has: StandAxes | undefined): OccupationEstimate {
  if (has === undefined || (has.plan && has.up)) return estimate;
  const { position, independent } = estimate;
  return {
    ...estimate,
    position: {
      eastM: has.plan ? position.eastM : 0,
      northM: has.plan ? position.northM : 0,
      upM: has.up ? position.upM : 0,
    },
    independent: {
      ...ZERO_COVARIANCE,
      eeM2: has.plan ? independent.eeM2 : UNKNOWN_VARIANCE_M2,
      enM2: has.plan ? independent.enM2 : 0,
      nnM2: has.plan ? independent.nnM2 : UNKNOWN_VARIANCE_M2,
      uuM2: has.up ? independent.uuM2 : UNKNOWN_VARIANCE_M2,
    },
  };
}
