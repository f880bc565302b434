import { HORIZONTAL_95, VERTICAL_95 } from '../observation/uncertainty/confidence-factors.js';
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
  const meets = (baselineM: number): boolean => {
    const sigmaM = model.at(baselineM, heightDifferenceM)[axis].totalM;
    return factor * Math.sqrt(sigmaM * sigmaM + extraVarianceM2) <= limit95M;
  };
  if (!meets(0)) return { status: 'tolerance-below-constant', rangeM: 0 };
  if (meets(LONGEST_RANGE_M)) return { status: 'unlimited', rangeM: null };
  let insideM = 0;
  let outsideM = LONGEST_RANGE_M;
  while (outsideM - insideM > RESOLUTION_M) {
    const middleM = 0.5 * (insideM + outsideM);
    if (meets(middleM)) insideM = middleM;
    else outsideM = middleM;
  }
  return { status: 'found', rangeM: insideM };
}
