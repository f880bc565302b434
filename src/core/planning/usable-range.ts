import { HORIZONTAL_95, VERTICAL_95 } from '../observation/uncertainty/confidence-factors.js';
import { emptyPrediction } from './precision-model.js';
import type { PrecisionModel } from './precision-model.js';

/** How far from the base a tolerance holds. */
export type UsableRange =
  | { readonly status: 'found'; readonly rangeM: number }
  /** Not even at the base itself: the tolerance is below the terms that do not grow with distance. */
  | { readonly status: 'tolerance-below-constant'; readonly rangeM: 0 }
  /** The model reaches the tolerance nowhere within `LONGEST_RANGE_M`. */
  | { readonly status: 'unlimited'; readonly rangeM: null };

/** Longest baseline looked at, metres: far beyond any single-base work. */
export const LONGEST_RANGE_M = 2_000_000;
const RESOLUTION_M = 0.0005;
/** What halving comes down to; every step is an exact number. */
const STEPS = 2 ** Math.ceil(Math.log2(LONGEST_RANGE_M / RESOLUTION_M));
const STEP_M = LONGEST_RANGE_M / STEPS;

export interface RangeRequest {
  readonly axis: 'horizontal' | 'vertical';
  /** 95 % tolerance, metres: the radius of a circle, or a half-interval in height. */
  readonly limit95M: number;
  /** Variance per axis that is not in the model, m²: base coordinate, pole, geoid. */
  readonly extraVarianceM2: number;
  /** Rover minus base, metres; null: taken as 0. */
  readonly heightDifferenceM: number | null;
}

/**
 * Longest baseline at which a single epoch meets a 95 % tolerance under the planning model, by
 * bisection to a millimetre; sigma never falls with distance, so the answer is unique.
 *
 * Given: the model; the request. Returned: metres with a status.
 *
 * Reference: 2.4477·σ per horizontal axis (FGDC-NSSDA, appendix 3-A, circular errors) and 1.9600·σ in
 * height; solved against K·σ(d) = limit.
 *
 * @example
 * // 80 mm in height with 15 mm and 1 ppm: (80 / 1.959964)² = 15² + d².
 * const given = { constantM: 0.015, ppm: 1 };
 * const none = { correlationHorizontalS: null, correlationVerticalS: null };
 * const model = createPrecisionModel({ conditions: 'normal', horizontal: given, vertical: given, combine: 'rss', ...none });
 * const request = { axis: 'vertical', limit95M: 0.08, extraVarianceM2: 0, heightDifferenceM: null };
 * usableRange(model, request); // { status: 'found', rangeM: 37960.95 }
 */
export function usableRange(model: PrecisionModel, request: RangeRequest): UsableRange {
  const { axis, limit95M, extraVarianceM2, heightDifferenceM } = request;
  const factor = axis === 'horizontal' ? HORIZONTAL_95 : VERTICAL_95;
  const held = emptyPrediction();
  const varianceM2 = (baselineM: number): number => {
    const sigmaM = model.at(baselineM, heightDifferenceM, held)[axis].totalM;
    return sigmaM * sigmaM;
  };
  const isMet = (modelM2: number): boolean => factor * Math.sqrt(modelM2 + extraVarianceM2) <= limit95M;
  const meets = (baselineM: number): boolean => isMet(varianceM2(baselineM));
  const nearM2 = varianceM2(0);
  if (!isMet(nearM2)) return { status: 'tolerance-below-constant', rangeM: 0 };
  const farM2 = varianceM2(LONGEST_RANGE_M);
  if (isMet(farM2)) return { status: 'unlimited', rangeM: null };
  const allowedM2 = (limit95M / factor) * (limit95M / factor) - extraVarianceM2;
  // Where the variance grows with the square of the distance, the range is known but for its last digits, and halving would end there.
  const steps = Math.floor(Math.sqrt((allowedM2 - nearM2) / (farM2 - nearM2)) * STEPS);
  if (steps >= 0 && meets(steps * STEP_M) && !meets((steps + 1) * STEP_M))
    return { status: 'found', rangeM: steps * STEP_M };
  let insideM = 0;
  let outsideM = LONGEST_RANGE_M;
  while (outsideM - insideM > RESOLUTION_M) {
    const middleM = 0.5 * (insideM + outsideM);
    if (meets(middleM)) insideM = middleM;
    else outsideM = middleM;
  }
  return { status: 'found', rangeM: insideM };
}
