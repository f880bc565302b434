import { smallestOf } from '../../core/numeric/extremes.js';
import { HORIZONTAL_95, VERTICAL_95 } from '../../core/observation/uncertainty/confidence-factors.js';
import {
  BEND_FARTHEST_M,
  BEND_SHARE_OF_TOLERANCE,
  bendMatters,
  bendMattersFromM,
  greatestBend,
} from '../../core/observation/uncertainty/vector-bend.js';
import type { VectorBend } from '../../core/observation/uncertainty/vector-bend.js';
import type { ProblemCode } from '../../records/codes/problem-codes.js';
import type { UncertaintyParts } from '../../records/points/reduced-point.js';
import type { ToleranceSettings } from '../../records/session.js';
import type { PreparedBase } from './prepare-bases.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';

/** What a wrong base coordinate left in the vectors measured from it. */
export interface BaseBend {
  /** One sigma at the farthest point, in the direction that bends most. */
  readonly greatest: VectorBend;
  /** From this baseline on it may matter beside the rest of the error of one epoch or the tolerance; null: within no reach. */
  readonly mattersFromM: number | null;
}

/**
 * Whether the bend of the vector is a doubt about the point: where it is a third of the variance of plan or height, or its own 95 %
 * figure a third of a tolerance. Where it is both, the point is refused.
 */
export function bendReason(
  { bend, total, geoidVarianceM2 }: Pick<UncertaintyParts, 'bend' | 'total' | 'geoidVarianceM2'>,
  tolerance: ToleranceSettings,
): ProblemCode | null {
  if (bend.eeM2 === 0 && bend.nnM2 === 0 && bend.uuM2 === 0) return null;
  // Without a geoid height there is none of its error.
  const matters = bendMatters(bend, total, geoidVarianceM2 ?? 0);
  const { horizontalM, verticalM } = tolerance;
  const takesTolerance =
    (horizontalM !== null &&
      HORIZONTAL_95 * Math.sqrt(Math.max(bend.eeM2, bend.nnM2)) > BEND_SHARE_OF_TOLERANCE * horizontalM) ||
    (verticalM !== null && VERTICAL_95 * Math.sqrt(bend.uuM2) > BEND_SHARE_OF_TOLERANCE * verticalM);
  if (matters && takesTolerance) return 'point-base-residual-large';
  return matters || takesTolerance ? 'point-base-residual' : null;
}

/**
 * What is to be said once for a base that was wrong while it measured; null where it was right, or nothing was measured from it.
 * Held against one epoch at equal height, pole and geoid left out.
 */
export function baseBend(
  { correction, settings }: PreparedBase,
  farthestM: number | null,
  { precision, tolerance }: ReductionSetup,
): BaseBend | null {
  if (correction === null || farthestM === null) return null;
  const { local } = correction;
  // Not stated: it adds nothing, and the summary says what is missing.
  const planBaseM2 = 2 * (settings.sigmaHorizontalM ?? 0) ** 2;
  // Not stated: it adds nothing, and the summary says what is missing.
  const upBaseM2 = (settings.sigmaVerticalM ?? 0) ** 2;
  const besideM = bendMattersFromM(local, (baselineM) => {
    const { horizontal, vertical } = precision.at(baselineM, null);
    return { planM2: 2 * horizontal.totalM ** 2 + planBaseM2, upM2: vertical.totalM ** 2 + upBaseM2 };
  });
  const aMetre = greatestBend(local, 1);
  const tolerances = [
    tolerance.horizontalM === null
      ? Infinity
      : (BEND_SHARE_OF_TOLERANCE * tolerance.horizontalM) / (HORIZONTAL_95 * Math.max(aMetre.alongM, aMetre.acrossM)),
    tolerance.verticalM === null
      ? Infinity
      : (BEND_SHARE_OF_TOLERANCE * tolerance.verticalM) / (VERTICAL_95 * aMetre.upM),
  ];
  const mattersFromM = smallestOf(tolerances, besideM ?? Infinity);
  return {
    greatest: greatestBend(local, farthestM),
    mattersFromM: mattersFromM > BEND_FARTHEST_M ? null : mattersFromM,
  };
}
