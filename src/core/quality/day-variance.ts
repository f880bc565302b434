import { chiSquareQuantile, chiSquareUpperTail } from '../numeric/chi-square.js';
import { NOISY_DAY_LEVEL } from './decision-levels.js';

/**
 * A difference that should be nothing, from which what is common has fallen out: two stands of a point, or control less its
 * neighbour from the same base. Contrasts of one class are taken as independent.
 */
export interface Contrast {
  readonly differenceM: number;
  /** What of its variance the factor multiplies: noise and slow error of the planning model, m². */
  readonly modelM2: number;
  /** What it does not: poles, set-ups that differ, control, recording, m². */
  readonly otherM2: number;
}

/** The contrasts of baselines of one class of length, metres. */
export interface ContrastClass {
  readonly fromM: number;
  /** Infinity: no end. */
  readonly toM: number;
  readonly contrasts: readonly Contrast[];
}

/** What a class of baselines says of the planning model. */
export interface ClassVariance {
  readonly fromM: number;
  readonly toM: number;
  readonly degreesOfFreedom: number;
  /** What the model's variances are to be multiplied by for the contrasts to be as large as they should; 0: they are small without it. */
  readonly factor: number;
  /** Its 95 % interval; above `Infinity` where the other variance alone could be the whole of it. */
  readonly low95: number;
  readonly high95: number;
  /** Chance of contrasts this large where the model is right. */
  readonly probability: number;
  readonly isNoisier: boolean;
}

const LARGEST_FACTOR = 1e6;

/**
 * How the precision of a day compares with the planning model, by length of baseline.
 *
 * With variances f·mᵢ + oᵢ of independent contrasts dᵢ, Q(f) = Σ dᵢ²/(f·mᵢ + oᵢ) follows χ² with as many degrees of freedom as
 * there are contrasts at the true f, and falls with f. The estimate is where Q(f) is its degrees of freedom, the ends of the
 * interval where it is the 97.5 and 2.5 % points of χ²; the class is noisier than the model where Q(1) is above its point at the
 * level of the day, shared equally over the classes that hold anything.
 *
 * Given: classes; those without contrasts are left out. Returned: one entry for each other.
 *
 * Notes: the interval is exact for normal errors, and the textbook interval of a variance where oᵢ = 0. A factor below 1 is said and
 * means nothing more: scaling down is not defended by few contrasts.
 *
 * Reference: NIST-HANDBOOK, 1.3.5.8 (interval and test of a variance).
 */
export function dayVariance(classes: readonly ContrastClass[]): readonly ClassVariance[] {
  const held = classes.filter(({ contrasts }) => contrasts.length > 0);
  return held.map(({ fromM, toM, contrasts }) => {
    const degreesOfFreedom = contrasts.length;
    const probability = chiSquareUpperTail(weightedSquares(contrasts, 1), degreesOfFreedom);
    return {
      fromM,
      toM,
      degreesOfFreedom,
      factor: factorAt(contrasts, degreesOfFreedom),
      low95: factorAt(contrasts, chiSquareQuantile(0.975, degreesOfFreedom)),
      high95: factorAt(contrasts, chiSquareQuantile(0.025, degreesOfFreedom)),
      probability,
      isNoisier: probability < NOISY_DAY_LEVEL / held.length,
    };
  });
}

/** Q(f): follows χ² with as many degrees of freedom as there are contrasts, at the true factor. */
export function weightedSquares(contrasts: readonly Contrast[], factor: number): number {
  let sum = 0;
  for (const { differenceM, modelM2, otherM2 } of contrasts) sum += (differenceM * differenceM) / (factor * modelM2 + otherM2);
  return sum;
}

/** The f at which Q(f) is `wanted`; 0 where it is below that at f = 0, Infinity where it is above it at any. */
function factorAt(contrasts: readonly Contrast[], wanted: number): number {
  if (!(weightedSquares(contrasts, 0) > wanted)) return 0;
  if (weightedSquares(contrasts, LARGEST_FACTOR) > wanted) return Infinity;
  let low = 0;
  let high = LARGEST_FACTOR;
  for (let turn = 0; turn < 200 && high - low > 1e-12 * high; turn += 1) {
    const middle = 0.5 * (low + high);
    if (weightedSquares(contrasts, middle) > wanted) low = middle;
    else high = middle;
  }
  return high;
}
