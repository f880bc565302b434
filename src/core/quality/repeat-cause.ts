import type { OccupationEstimate } from '../observation/repeats/occupation-estimate.js';
import type { RepeatTest } from '../observation/repeats/repeat-test.js';
import type { LocalCovariance, LocalVector } from '../../records/points/point.js';
import type { CauseId } from './cause/cause-ids.js';
import { REPEAT_LEAST_GAIN } from './decision-levels.js';
import { usualPoleStep } from './usual-pole-step.js';

/** Why two occupations of a point may disagree. */
export interface RepeatCause {
  readonly cause: Extract<CauseId, 'pole-length' | 'wrong-integer' | 'tilt' | 'misidentified'>;
  /** Later minus earlier. */
  readonly difference: LocalVector;
  /** The two rows state different pole lengths. */
  readonly polesDiffer: boolean;
  /** The step between two usual pole lengths that the height difference agrees with; null: none, or another cause. */
  readonly poleStepM: number | null;
}

/** Offsets of one initialisation beyond this are another kind of mistake, metres. */
const LARGEST_INTEGER_SLIP_M = 2;
const USUAL_POLE_M = 2;

/**
 * The likeliest physical cause of a disagreement between two occupations, by which axes disagree.
 *
 * Height alone: a pole length. More than 2 m: another mark. Plan and a drop that fits a lean of the pole (within two
 * sigma of L − √(L² − r²)) but more than 10 cm: a lean. Anything else: a wrong integer in one initialisation, which each
 * occupation by itself cannot show, however tight.
 *
 * Given: difference; the test; pole lengths of the two, metres, null: not stated. Which of the two is wrong, two
 * occupations cannot say.
 */
export function repeatCause(
  difference: LocalVector,
  test: RepeatTest,
  firstPoleM: number | null,
  secondPoleM: number | null,
): RepeatCause {
  const polesDiffer = firstPoleM !== null && secondPoleM !== null && firstPoleM !== secondPoleM;
  const planM = Math.hypot(difference.eastM, difference.northM);
  const shared = { difference, polesDiffer, poleStepM: null };
  if (planM > LARGEST_INTEGER_SLIP_M) return { ...shared, cause: 'misidentified' };
  if (!test.horizontalDisagrees)
    return {
      ...shared,
      cause: 'pole-length',
      poleStepM: usualPoleStep(
        difference.upM,
        Math.sqrt(test.covariance.uuM2),
        [firstPoleM, secondPoleM].filter((length) => length !== null),
      ),
    };
  const poleM = firstPoleM ?? USUAL_POLE_M;
  const dropM = planM < poleM ? poleM - Math.sqrt(poleM * poleM - planM * planM) : Infinity;
  const sigmaM = Math.sqrt(test.covariance.uuM2);
  if (planM > 0.1 && dropM > 2 * sigmaM && Math.abs(Math.abs(difference.upM) - dropM) < 2 * sigmaM)
    return { ...shared, cause: 'tilt' };
  return { ...shared, cause: 'wrong-integer' };
}

/**
 * Whether joining two occupations makes plan or height better than the better of them by a share worth having: of what does not
 * belong to the base, the joined has √((v₁v₂ − c²)/(v₁ + v₂ − 2c)), c being what is common to them.
 *
 * Given: the estimates; the covariance of their difference, m².
 */
export function isPairGain(
  first: OccupationEstimate,
  second: OccupationEstimate,
  difference: LocalCovariance,
): boolean {
  const isBetter = (of: (covariance: LocalCovariance) => number): boolean => {
    const own = ({ independent, correlated, baseline }: OccupationEstimate): number =>
      of(independent) + of(correlated) + of(baseline);
    const [a, b, d] = [own(first), own(second), of(difference)];
    const c = Math.max(0, (a + b - d) / 2);
    return Math.sqrt(Math.max(0, (a * b - c * c) / d)) < (1 - REPEAT_LEAST_GAIN) * Math.sqrt(Math.min(a, b));
  };
  return isBetter(({ eeM2, nnM2 }) => eeM2 + nnM2) || isBetter(({ uuM2 }) => uuM2);
}
