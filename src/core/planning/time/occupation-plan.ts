import { sumCovariance, ZERO_COVARIANCE } from '../../observation/uncertainty/local-covariance.js';
import { varianceInflation } from '../../observation/averaging/correlated-mean.js';
import { positionalUncertainty } from '../../observation/uncertainty/positional-uncertainty.js';
import type { PositionalUncertainty } from '../../observation/uncertainty/positional-uncertainty.js';
import { occupationUncertainty } from '../../observation/uncertainty/uncertainty-components.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { PredictedPrecision } from '../precision-model.js';

/** What is known of a point when its occupations are planned. */
export interface OccupationPlanInput {
  readonly prediction: PredictedPrecision;
  /** Fast noise of one epoch, one sigma per axis, metres; 0 where nothing is known. */
  readonly noiseHorizontalM: number;
  readonly noiseVerticalM: number;
  readonly pole: LocalCovariance;
  readonly base: LocalCovariance;
  readonly geoidSigmaM: number | null;
  /** 95 % limits, metres; null: none. */
  readonly toleranceHorizontalM: number | null;
  readonly toleranceVerticalM: number | null;
  /** From the end of one occupation to the start of the next, seconds. */
  readonly separationS: number;
  /** Fewest and most epochs in one occupation, one a second. */
  readonly minEpochs: number;
  readonly maxEpochs: number;
  readonly maxOccupations: number;
}

/** So many occupations of so many epochs, and what they would reach. */
export interface OccupationOption {
  readonly occupations: number;
  /** Epochs in each, one a second. */
  readonly epochs: number;
  readonly reached: boolean;
  readonly uncertainty: PositionalUncertainty;
}

export interface OccupationPlan {
  readonly status: 'reached' | 'not-reached';
  /** The plan: fewest occupations, then fewest epochs; the best option where the tolerance is not reached. */
  readonly chosen: OccupationOption;
  /** When the second occupation may start, seconds after the start of the first; null with one occupation. */
  readonly earliestSecondStartS: number | null;
  /** For 1, 2, … occupations: the fewest epochs that reach the tolerance, or the most where they do not. */
  readonly options: () => readonly OccupationOption[];
  /** Where not reached: the largest part of the variance that is left, on the axis that fails. */
  readonly limit: 'slow-error' | 'pole' | 'base' | 'geoid' | 'noise' | null;
}

/**
 * How many epochs, and how many occupations apart in time, reach a tolerance.
 *
 * Given: see `OccupationPlanInput`; at least 1 epoch and 1 occupation. Returned: see `OccupationPlan`.
 * The uncertainty of one occupation is that of `occupationUncertainty`. Of m occupations whose
 * middles stand D apart the slow error keeps the share VIF(m, D, τ)/m of its variance (two: (1 + e^{−D/τ})/2),
 * noise and pole (set up anew) 1/m, base and geoid all of it.
 * More epochs never make it worse, so the fewest are found by bisection.
 * Note: when the slow error dominates, longer windows do not help; more separated ones do.
 * Reference: docs/methods/occupation-plan.md.
 *
 * @example
 * // Every count of epochs tried in turn with full matrices, NumPy: 164 epochs, 24.276 and 35.984 mm.
 * const axis = (totalM) => ({ totalM, constantM: totalM, ionosphereM: 0, troposphereM: 0, orbitM: 0, proportionalM: 0 });
 * const correlation = { correlationHorizontalS: 115, correlationVerticalS: 300 };
 * const base = { eeM2: 0, enM2: 0, euM2: 0, nnM2: 0, nuM2: 0, uuM2: 0 };
 * const plan = occupationPlan({
 *   prediction: { horizontal: axis(0.012), vertical: axis(0.02), ...correlation },
 *   ...{ noiseHorizontalM: 0, noiseVerticalM: 0, pole: { ...base, eeM2: 4e-6, nnM2: 4e-6, uuM2: 1e-6 }, base },
 *   ...{ geoidSigmaM: null, toleranceHorizontalM: 0.04, toleranceVerticalM: 0.036, separationS: 1800 },
 *   ...{ minEpochs: 1, maxEpochs: 180, maxOccupations: 6 },
 * });
 * [plan.chosen.occupations, plan.chosen.epochs]; // [1, 164]
 * plan.chosen.uncertainty.vertical95M; // 0.0359843
 */
export function occupationPlan(input: OccupationPlanInput): OccupationPlan {
  const most = Math.max(1, input.maxOccupations);
  // More occupations than reach the tolerance are worked out only where they are asked for.
  const tried: OccupationOption[] = [];
  while (tried.length < most && tried.at(-1)?.reached !== true) tried.push(optionFor(input, tried.length + 1));
  const reached = tried.find((option) => option.reached);
  const chosen =
    reached ?? tried.reduce((best, option) => (excess(input, option) < excess(input, best) ? option : best));
  return {
    status: reached === undefined ? 'not-reached' : 'reached',
    chosen,
    earliestSecondStartS: chosen.occupations > 1 ? chosen.epochs - 1 + input.separationS : null,
    options: () => {
      const options = [...tried];
      while (options.length < most) options.push(optionFor(input, options.length + 1));
      return options;
    },
    limit: reached === undefined ? largestPart(input, chosen) : null,
  };
}

interface Parts {
  readonly slow: LocalCovariance;
  readonly noise: LocalCovariance;
  readonly pole: LocalCovariance;
  readonly base: LocalCovariance;
  readonly geoidVarianceM2: number | null;
}

/** The covariance left in the mean of m occupations of n epochs, part by part. */
function partsOf(input: OccupationPlanInput, occupations: number, epochs: number): Parts {
  const { prediction, noiseHorizontalM, noiseVerticalM, pole, base, geoidSigmaM, separationS } = input;
  const noiseH = (noiseHorizontalM * noiseHorizontalM) / epochs;
  const one = occupationUncertainty({
    epochs: null,
    epochCount: epochs,
    reported: { ...ZERO_COVARIANCE, eeM2: noiseH, nnM2: noiseH, uuM2: (noiseVerticalM * noiseVerticalM) / epochs },
    prediction,
    pole,
    base,
    geoidSigmaM,
  });
  const share = 1 / occupations;
  const spacingS = separationS + epochs - 1;
  const shareH = varianceInflation(occupations, spacingS, prediction.correlationHorizontalS) * share;
  const shareV = varianceInflation(occupations, spacingS, prediction.correlationVerticalS) * share;
  const slow = sumCovariance(one.correlated, one.baseline);
  return {
    slow: {
      ...ZERO_COVARIANCE,
      eeM2: slow.eeM2 * shareH,
      enM2: slow.enM2 * shareH,
      nnM2: slow.nnM2 * shareH,
      uuM2: slow.uuM2 * shareV,
    },
    noise: scale(one.noise, share),
    pole: scale(one.pole, share),
    base: one.base,
    geoidVarianceM2: one.geoidVarianceM2,
  };
}

function optionFor(input: OccupationPlanInput, occupations: number): OccupationOption {
  const evaluate = (epochs: number): OccupationOption => {
    const parts = partsOf(input, occupations, epochs);
    const total = [parts.slow, parts.noise, parts.pole, parts.base].reduce(sumCovariance, ZERO_COVARIANCE);
    const uncertainty = positionalUncertainty(total, parts.geoidVarianceM2);
    const option = { occupations, epochs, reached: false, uncertainty };
    return { ...option, reached: excess(input, option) <= 0 };
  };
  const fewest = Math.max(1, input.minEpochs);
  const most = Math.max(fewest, input.maxEpochs);
  const easy = evaluate(fewest);
  if (easy.reached) return easy;
  let best = evaluate(most);
  if (!best.reached) return best;
  let low = fewest;
  let high = most;
  while (high - low > 1) {
    const middle = (low + high) >>> 1;
    const option = evaluate(middle);
    if (option.reached) {
      high = middle;
      best = option;
    } else low = middle;
  }
  return best;
}

/** How far the worse axis is beyond its tolerance, as a ratio minus 1; without tolerances nothing is beyond. */
function excess(
  { toleranceHorizontalM, toleranceVerticalM }: OccupationPlanInput,
  { uncertainty }: OccupationOption,
): number {
  const horizontal = toleranceHorizontalM === null ? -1 : uncertainty.circle95M / toleranceHorizontalM - 1;
  const vertical = toleranceVerticalM === null ? -1 : uncertainty.vertical95M / toleranceVerticalM - 1;
  return Math.max(horizontal, vertical);
}

function largestPart(
  input: OccupationPlanInput,
  { occupations, epochs, uncertainty }: OccupationOption,
): 'slow-error' | 'pole' | 'base' | 'geoid' | 'noise' {
  const parts = partsOf(input, occupations, epochs);
  const overH = input.toleranceHorizontalM === null ? 0 : uncertainty.circle95M / input.toleranceHorizontalM;
  const overV = input.toleranceVerticalM === null ? 0 : uncertainty.vertical95M / input.toleranceVerticalM;
  const vertical = overV > overH;
  const size = (c: LocalCovariance): number => (vertical ? c.uuM2 : c.eeM2 + c.nnM2);
  const sizes = [
    ['slow-error', size(parts.slow)],
    ['pole', size(parts.pole)],
    ['base', size(parts.base)],
    // The sigma of the geoid is not stated: it has no share.
    ['geoid', vertical ? (parts.geoidVarianceM2 ?? 0) : 0],
    ['noise', size(parts.noise)],
  ] as const;
  return sizes.reduce((largest, part) => (part[1] > largest[1] ? part : largest))[0];
}

function scale(c: LocalCovariance, by: number): LocalCovariance {
  return {
    eeM2: c.eeM2 * by,
    enM2: c.enM2 * by,
    euM2: c.euM2 * by,
    nnM2: c.nnM2 * by,
    nuM2: c.nuM2 * by,
    uuM2: c.uuM2 * by,
  };
}
