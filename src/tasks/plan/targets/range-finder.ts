import { poleCovariance } from '../../../core/observation/uncertainty/pole-covariance.js';
import type { PredictionSettings } from '../../../core/planning/prediction.js';
import { remedyModel } from '../../../core/planning/remedy.js';
import { LONGEST_RANGE_M, usableRange } from '../../../core/planning/usable-range.js';
import type { UsableRange } from '../../../core/planning/usable-range.js';
import type { Conditions } from '../../../records/session.js';

/** How far a base may stand from a point with these tolerances. */
export interface PlanRange {
  /** Null: no tolerance on that axis. */
  readonly horizontal: UsableRange | null;
  readonly vertical: UsableRange | null;
  /** The smaller one, metres; 0 where a tolerance is below what does not grow with distance. */
  readonly rangeM: number;
  readonly decidedBy: 'horizontal' | 'vertical';
}

export interface RangeFinder {
  readonly at: (
    toleranceHorizontalM: number | null,
    toleranceVerticalM: number | null,
    heightDifferenceM: number | null,
  ) => PlanRange;
  /** The ranges of two tolerances by height difference: asked for of every pair of a base and a point. */
  readonly byMetres: (toleranceHorizontalM: number | null, toleranceVerticalM: number | null) => RangesByMetre;
}

/** The ranges of two tolerances, metres, by whole metres of height difference. */
export interface RangesByMetre {
  /** Whether the height difference counts; else the ranges of 0 hold. */
  readonly isByHeight: boolean;
  /** Those found so far, NaN where none is yet; it grows with what is asked. */
  known: Float64Array;
  /** Finds one. */
  readonly metresAt: (metre: number) => number;
}

/** Height differences of more metres are of no ground: what is found of them is not kept by metres. */
const MOST_KEPT = 20_000;

/**
 * Usable ranges under one of the conditions, remembered by tolerance and height difference.
 *
 * Given: the settings of the predictions; the conditions; `wholeMetres`, which rounds height
 * differences up to whole metres (a range is then at most a little too short) so that a matrix of
 * thousands of points and dozens of candidates needs few of them. Returned: the finder. Pole, base
 * and geoid count as in `remedy`.
 */
export function createRangeFinder(
  settings: PredictionSettings,
  conditions: Conditions,
  wholeMetres: boolean,
): RangeFinder {
  const model = remedyModel(settings, conditions);
  const pole = poleCovariance(settings.pole, settings.poleSigmas);
  // Not stated: it adds nothing, and the summary says what is missing.
  const baseH = settings.baseSigmaHorizontalM ?? 0;
  // Not stated: it adds nothing, and the summary says what is missing.
  const baseV = settings.baseSigmaVerticalM ?? 0;
  const extraHorizontalM2 = (pole.eeM2 + pole.nnM2) / 2 + baseH * baseH;
  // Not stated: it adds nothing, and the summary says what is missing.
  const extraVerticalM2 = pole.uuM2 + baseV * baseV + (settings.geoidSigmaM ?? 0) * (settings.geoidSigmaM ?? 0);
  const known = new Map<string, PlanRange>();
  const horizontals = new Map<number, UsableRange>();

  function horizontalRange(limit95M: number): UsableRange {
    const found =
      horizontals.get(limit95M) ??
      usableRange(model, { axis: 'horizontal', limit95M, extraVarianceM2: extraHorizontalM2, heightDifferenceM: null });
    horizontals.set(limit95M, found);
    return found;
  }

  const at: RangeFinder['at'] = (toleranceHorizontalM, toleranceVerticalM, heightDifferenceM) => {
    const apartM = heightDifferenceM === null || toleranceVerticalM === null ? 0 : Math.abs(heightDifferenceM);
    const heightM = wholeMetres ? Math.ceil(apartM) : apartM;
    const key = `${String(toleranceHorizontalM)} ${String(toleranceVerticalM)} ${String(heightM)}`;
    const before = known.get(key);
    if (before !== undefined) return before;
    const horizontal = toleranceHorizontalM === null ? null : horizontalRange(toleranceHorizontalM);
    const vertical =
      toleranceVerticalM === null
        ? null
        : usableRange(model, {
            axis: 'vertical',
            limit95M: toleranceVerticalM,
            extraVarianceM2: extraVerticalM2,
            heightDifferenceM: heightM,
          });
    const h = metresOf(horizontal);
    const v = metresOf(vertical);
    const made: PlanRange = {
      horizontal,
      vertical,
      rangeM: Math.min(h, v),
      decidedBy: v < h ? 'vertical' : 'horizontal',
    };
    known.set(key, made);
    return made;
  };
  return { at, byMetres: (horizontalM, verticalM) => rangesByMetre(at, horizontalM, verticalM) };
}

function rangesByMetre(
  at: RangeFinder['at'],
  toleranceHorizontalM: number | null,
  toleranceVerticalM: number | null,
): RangesByMetre {
  const own: RangesByMetre = {
    isByHeight: toleranceVerticalM !== null,
    known: new Float64Array(0),
    metresAt(metre) {
      const { rangeM } = at(toleranceHorizontalM, toleranceVerticalM, metre);
      if (metre > MOST_KEPT) return rangeM;
      if (metre >= own.known.length) {
        const grown = new Float64Array(Math.max(16, 2 * metre)).fill(Number.NaN);
        grown.set(own.known);
        own.known = grown;
      }
      own.known[metre] = rangeM;
      return rangeM;
    },
  };
  return own;
}

function metresOf(range: UsableRange | null): number {
  return range?.rangeM ?? LONGEST_RANGE_M;
}
