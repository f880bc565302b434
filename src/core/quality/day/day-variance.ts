import { chiSquareUpperTail } from '../../numeric/distributions/chi-square.js';
import { studentTQuantile } from '../../numeric/distributions/student-t.js';

/**
 * A difference that should be nothing, from which what is common has fallen out: two stands of a point, or control less other control
 * of the same base.
 */
export interface Contrast {
  readonly differenceM: number;
  /** What of its variance the factor multiplies, m². */
  readonly modelM2: number;
  /** What it does not, m². */
  readonly otherM2: number;
}

/** What two contrasts share, by their places: they stood under one atmosphere at one time. */
export interface ContrastLink {
  readonly first: number;
  readonly second: number;
  /** Covariance that the factor multiplies, and that it does not, m². */
  readonly modelM2: number;
  readonly otherM2: number;
  /** How many ordered pairs it stands for: 2, and more where only some pairs were looked at. */
  readonly pairs: number;
}

/** What contrasts say of the planning model. */
export interface DayVarianceEstimate {
  /** Of independent contrasts that would say as much. */
  readonly degreesOfFreedom: number;
  /** What the model's variances are to be multiplied by for the contrasts to be as large as they should; 0: they are small without it. */
  readonly factor: number;
  /** Its 95 % interval; above `Infinity` where the other variance alone could be the whole of it. */
  readonly low95: number;
  readonly high95: number;
  /** Chance of contrasts this large where the model is right. */
  readonly probability: number;
}

const LARGEST_FACTOR = 1e6;
const SMALLEST_FACTOR = 1e-4;
const NORMAL_95 = 1.959963984540054;

/**
 * The factor of a variance component by maximum likelihood.
 *
 * With variances vᵢ = f·mᵢ + oᵢ of normal contrasts dᵢ and wᵢ = f·mᵢ/vᵢ, the share that the factor has in each, the likelihood
 * is largest where S(f) = Σ wᵢ dᵢ²/vᵢ / Σ wᵢ is 1. S follows χ²/ν, ν = (Σ wᵢ)² / Σᵢⱼ wᵢ wⱼ ρᵢⱼ², in its first two moments, ρ the correlations that
 * the links give (1 of each with itself). The ends of the interval are where S is the 97.5 and 2.5 % points of χ²/ν, the test is
 * that of S(1).
 *
 * Given: contrasts, at least one with mᵢ above 0; their links. Returned: see `DayVarianceEstimate`.
 *
 * Notes: where oᵢ = 0 and nothing is linked, estimate, interval and test are the textbook's of a variance, and exact.
 *
 * Reference: SATTERTHWAITE-1946 (degrees of freedom of a sum of mean squares); NIST-HANDBOOK, 1.3.5.8 (interval and test of a variance).
 *
 * @example
 * // Ten differences twice as large as stated: 4, and 40 over the 97.5 and 2.5 % points of χ² with ten degrees of freedom.
 * const contrast = { differenceM: 0.02, modelM2: 1e-4, otherM2: 0 };
 * const day = dayVariance(new Array(10).fill(contrast));
 * [day.factor, day.low95, day.high95]; // [4.0000, 1.9528, 12.3192]
 */
export function dayVariance(contrasts: readonly Contrast[], links: readonly ContrastLink[] = []): DayVarianceEstimate {
  return sampleVariance(
    {
      difference: Float64Array.from(contrasts, ({ differenceM }) => differenceM),
      model: Float64Array.from(contrasts, ({ modelM2 }) => modelM2),
      other: Float64Array.from(contrasts, ({ otherM2 }) => otherM2),
    },
    links,
  );
}

/** The same of contrasts in arrays. */
export function sampleVariance(contrasts: ContrastArrays, links: readonly ContrastLink[]): DayVarianceEstimate {
  const at = scaledSquares(contrasts, links);
  const factor = likeliestOf(at);
  return {
    degreesOfFreedom: at(Math.min(Math.max(factor, 1), LARGEST_FACTOR)).degreesOfFreedom,
    factor,
    low95: factorOf(at, 0.025),
    high95: factorOf(at, 0.975),
    probability: tailOf(at, 1),
  };
}

/** The estimate of `dayVariance` alone. */
export function likeliestFactor(contrasts: ContrastArrays, links: readonly ContrastLink[]): number {
  return likeliestOf(scaledSquares(contrasts, links));
}

/** The factor at which contrasts this large, or larger, have a chance p: 0.975 for the upper end of its 95 % interval. */
export function factorAtTail(contrasts: ContrastArrays, links: readonly ContrastLink[], p: number): number {
  return factorOf(scaledSquares(contrasts, links), p);
}

/** Chance of contrasts this large at a factor. */
export function tailAt(contrasts: ContrastArrays, links: readonly ContrastLink[], factor: number): number {
  return tailOf(scaledSquares(contrasts, links), factor);
}

function likeliestOf(at: ScaledSquares): number {
  return largestRoot((f) => at(f).mean - 1);
}

function factorOf(at: ScaledSquares, p: number): number {
  return largestRoot((f) => p - tailOf(at, f));
}

function tailOf(at: ScaledSquares, factor: number): number {
  const { mean, degreesOfFreedom } = at(factor);
  return chiSquareUpperTail(degreesOfFreedom * mean, degreesOfFreedom);
}

/**
 * What a normal sigma is multiplied by, squared, for its 95 % figure to hold 95 % where the variance was itself estimated.
 *
 * Given: degrees of freedom of the estimate. Returned: (t₀.₉₇₅(ν) / 1.96)². Reference: JCGM-100, annex G.
 */
export function estimatedAllowance(degreesOfFreedom: number): number {
  return (studentTQuantile(0.975, degreesOfFreedom) / NORMAL_95) ** 2;
}

/** Sum of squares of contrasts from a place on, by their variances: follows χ² with as many degrees of freedom as there are independent ones, at the true factor. */
export function weightedSquares(
  { difference, model, other }: ContrastArrays,
  factor: number,
  start = 0,
  end: number = difference.length,
): number {
  let sum = 0;
  for (let index = start; index < end; index += 1) {
    const differenceM = difference[index] as number;
    sum += (differenceM * differenceM) / (factor * (model[index] as number) + (other[index] as number));
  }
  return sum;
}

/** −2 ln likelihood of independent contrasts but for a constant. */
export function criterionAt(contrasts: ContrastArrays, factor: number): number {
  const { model, other } = contrasts;
  let sum = weightedSquares(contrasts, factor);
  for (let index = 0; index < model.length; index += 1)
    sum += Math.log(factor * (model[index] as number) + (other[index] as number));
  return sum;
}

interface ScaledSquare {
  readonly mean: number;
  readonly degreesOfFreedom: number;
}

/** S(f) and its degrees of freedom at a factor f. */
type ScaledSquares = (factor: number) => ScaledSquare;

/** Contrasts in arrays: they are gone through for some hundred factors, and to go after an object for each takes three times as long. */
export interface ContrastArrays {
  readonly difference: Float64Array;
  readonly model: Float64Array;
  readonly other: Float64Array;
}

function scaledSquares(contrasts: ContrastArrays, links: readonly ContrastLink[]): ScaledSquares {
  // The ends of an interval are sought by the same factors as the estimate, at first.
  const known = new Map<number, ScaledSquare>();
  return (factor) => {
    const before = known.get(factor);
    if (before !== undefined) return before;
    const made = scaledSquare(contrasts, links, factor);
    known.set(factor, made);
    return made;
  };
}

function scaledSquare(
  { difference, model, other }: ContrastArrays,
  links: readonly ContrastLink[],
  factor: number,
): ScaledSquare {
  let weights = 0;
  let squares = 0;
  let spread = 0;
  for (let index = 0; index < difference.length; index += 1) {
    const differenceM = difference[index] as number;
    const scaled = factor * (model[index] as number);
    const variance = scaled + (other[index] as number);
    const weight = scaled / variance;
    weights += weight;
    squares += (weight * differenceM * differenceM) / variance;
    spread += weight * weight;
  }
  return {
    mean: squares / weights,
    degreesOfFreedom: (weights * weights) / linkedSpread({ model, other }, links, factor, spread),
  };
}

/** The spread that links add to that of the contrasts by themselves. */
function linkedSpread(
  { model, other }: Pick<ContrastArrays, 'model' | 'other'>,
  links: readonly ContrastLink[],
  factor: number,
  own: number,
): number {
  let spread = own;
  for (const { first, second, modelM2, otherM2, pairs } of links) {
    const modelA = model[first] as number;
    const modelB = model[second] as number;
    const variances = (factor * modelA + (other[first] as number)) * (factor * modelB + (other[second] as number));
    const covariance = factor * modelM2 + otherM2;
    spread += (pairs * (factor * modelA * factor * modelB * covariance * covariance)) / variances ** 2;
  }
  return spread;
}

/** The largest f at which a function that falls below 0 in the end is not below it; 0 where it is below at any, Infinity where it is not at the largest looked at. */
function largestRoot(of: (factor: number) => number): number {
  if (of(LARGEST_FACTOR) >= 0) return Infinity;
  let high = LARGEST_FACTOR;
  let low = high / 2;
  while (low > SMALLEST_FACTOR && of(low) < 0) [low, high] = [low / 2, low];
  if (of(low) < 0) return 0;
  while (high - low > 1e-10 * high) {
    const middle = 0.5 * (low + high);
    if (of(middle) < 0) high = middle;
    else low = middle;
  }
  return high;
}
