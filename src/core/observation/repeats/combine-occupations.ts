import { InternalError } from '../../../records/internal-error.js';
import type { LocalCovariance, LocalVector } from '../../../records/points/point.js';
import { inverse3 } from '../../numeric/symmetric3.js';
import type { Matrix3 } from '../../numeric/symmetric3.js';
import { jointFilter, times as product } from '../averaging/joint-filter.js';
import { gainsWithout, jointSolutions, SOLUTION } from '../averaging/joint-smoother.js';
import { jointSteps } from '../averaging/joint-steps.js';
import { entryAt } from '../../../records/present.js';
import { isTimed } from './occupation-estimate.js';
import type { CorrelationTimes, OccupationEstimate } from './occupation-estimate.js';

/** Several occupations of a point as one. */
export interface CombinedOccupations {
  /** About the origin of the estimates, metres. */
  readonly position: LocalVector;
  /** m²; the base's error and the correlation of slow errors included, the geoid not. */
  readonly covariance: LocalCovariance;
  /** What each occupation is multiplied by in the sum; together they are the unit matrix. */
  readonly weights: readonly Matrix3[];
  /** Weighted sum of squared residuals, and its degrees of freedom, 3(k − 1). */
  readonly chiSquare: number;
  readonly degreesOfFreedom: number;
}

/** The weighted squares of the occupations of a point, together and without each. */
export interface JointSquares {
  readonly chiSquare: number;
  /** For each estimate how much smaller χ² is without it (chi-square with 3 degrees of freedom). */
  readonly gains: () => readonly number[];
  /** What `combineOccupations` says of the same, without solving it anew. */
  readonly joined: () => CombinedOccupations;
}

/**
 * Joins the occupations of a point by their full covariance: x̂ = (AᵀC⁻¹A)⁻¹AᵀC⁻¹x with covariance
 * (AᵀC⁻¹A)⁻¹, A stacking unit matrices. Between occupations i and j, C holds σᵢσⱼ exp(−|tᵢ − tⱼ|/τ) for
 * the slow errors (those that grow with the baseline only from one mark), the error of a shared mark and that of a
 * shared set-up; noise and pole belong to each alone.
 *
 * Given: at least one estimate, all about one origin; correlation times. Returned: see
 * `CombinedOccupations`. Call `jointTest` first: this joins what it is given. `splitCombined` says what
 * the covariance is made of.
 *
 * Notes:
 * 1. The cross covariance of two means is reckoned between their middles, which is exact for windows
 *    short against τ or against their separation.
 * 2. Where any time is not stated, all slow errors are taken as fully correlated, the safe side.
 * 3. Time and memory grow with the count; time also with the square of the marks and set-ups that are in use at once.
 *
 * Reference: generalised least squares, AITKEN-1935; `jointFilter`.
 *
 * @example
 * // Two of equal weight that share nothing: the mean, with half of the variance.
 * const none = { eeM2: 0, enM2: 0, euM2: 0, nnM2: 0, nuM2: 0, uuM2: 0 };
 * const parts = { independent: { ...none, eeM2: 1e-4, nnM2: 1e-4, uuM2: 4e-4 }, correlated: none, baseline: none };
 * const shared = { mark: none, setup: none, markKey: 'M', setupKey: 'S', baselineM: 5000, startMs: 0, endMs: 0 };
 * const [a, b] = [0, 0.02].map((eastM) => ({ position: { eastM, northM: 0, upM: 0 }, ...parts, ...shared }));
 * const joined = combineOccupations([a, b], { correlationHorizontalS: 115, correlationVerticalS: 300 });
 * joined.position.eastM; // 0.0100
 * joined.covariance.eeM2 * 1e4; // 0.500
 * joined.degreesOfFreedom; // 3
 */
export function combineOccupations(
  estimates: readonly OccupationEstimate[],
  times: CorrelationTimes,
): CombinedOccupations {
  return joinedBy(estimates, solved(estimates, times, false));
}

function joinedBy(
  estimates: readonly OccupationEstimate[],
  { filtered, inverse, position, chiSquare }: SolvedOccupations,
): CombinedOccupations {
  const from = (estimates[0] as OccupationEstimate).position;
  const { xx, xy, xz, yy, yz, zz } = inverse;
  const weights: Matrix3[] = [];
  const solutions = jointSolutions(filtered);
  filtered.steps.forEach(({ index }, place) => {
    const at = (axis: number, column: number): number => solutions[SOLUTION * place + 4 * axis + column] as number;
    const column = (axis: number): readonly [number, number, number] =>
      product(inverse, at(axis, 1), at(axis, 2), at(axis, 3));
    const [east, north, up] = [column(0), column(1), column(2)];
    weights[index] = {
      xx: east[0],
      xy: north[0],
      xz: up[0],
      yx: east[1],
      yy: north[1],
      yz: up[1],
      zx: east[2],
      zy: north[2],
      zz: up[2],
    };
  });
  const [eastM, northM, upM] = position;
  return {
    position: { eastM: from.eastM + eastM, northM: from.northM + northM, upM: from.upM + upM },
    covariance: { eeM2: xx, enM2: xy, euM2: xz, nnM2: yy, nuM2: yz, uuM2: zz },
    weights,
    chiSquare,
    degreesOfFreedom: 3 * (estimates.length - 1),
  };
}

/**
 * The weighted squares of what `combineOccupations` joins, slow errors new at each occupation where not all times are stated.
 *
 * Given: as there. Returned: see `JointSquares`.
 */
export function jointSquares(estimates: readonly OccupationEstimate[], times: CorrelationTimes): JointSquares {
  const solution = solved(estimates, times, true);
  const { filtered, inverse, position, chiSquare } = solution;
  return {
    chiSquare,
    gains() {
      const gains: number[] = [];
      gainsWithout(filtered, jointSolutions(filtered), position, inverse).forEach((gain, place) => {
        gains[entryAt(filtered.steps, place).index] = gain;
      });
      return gains;
    },
    // Without times slow errors count as one in the joining, and as new in the squares.
    joined: () => (estimates.every(isTimed) ? joinedBy(estimates, solution) : combineOccupations(estimates, times)),
  };
}

interface SolvedOccupations {
  readonly filtered: ReturnType<typeof jointFilter>;
  readonly inverse: NonNullable<ReturnType<typeof inverse3>>;
  readonly position: readonly [number, number, number];
  readonly chiSquare: number;
}

function solved(
  estimates: readonly OccupationEstimate[],
  times: CorrelationTimes,
  isNewWithoutTimes: boolean,
): SolvedOccupations {
  if (estimates.length === 0) throw new InternalError('no occupations to combine');
  // About the first of them: what is common to all positions would cost digits of χ².
  const [first] = estimates as readonly [OccupationEstimate];
  const { eastM, northM, upM } = first.position;
  const shifted = estimates.map((estimate): OccupationEstimate => ({
    ...estimate,
    position: {
      eastM: estimate.position.eastM - eastM,
      northM: estimate.position.northM - northM,
      upM: estimate.position.upM - upM,
    },
  }));
  const filtered = jointFilter(jointSteps(shifted, times, isNewWithoutTimes));
  const inverse = inverse3(filtered.normal);
  if (inverse === null) throw new InternalError('the normal equations of occupations are singular');
  const [r0, r1, r2] = filtered.right;
  const position = product(inverse, r0, r1, r2);
  return {
    filtered,
    inverse,
    position,
    chiSquare: Math.max(0, filtered.squares - position[0] * r0 - position[1] * r1 - position[2] * r2),
  };
}
