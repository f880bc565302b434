import type { Conditions } from '../../records/session.js';
import { varianceInflation } from '../observation/averaging/correlated-mean.js';
import { requiredSeparationS } from '../observation/repeats/repeat-test.js';
import { occupationPlan } from './time/occupation-plan.js';
import type { OccupationPlan } from './time/occupation-plan.js';
import { createPrecisionModel } from './precision-model.js';
import type { PrecisionModel } from './precision-model.js';
import type { ConditionPrediction, PointPrediction, PointWithTolerance, PredictionSettings } from './prediction.js';
import { usableRange } from './usable-range.js';
import type { UsableRange } from './usable-range.js';

/** What would have to change for a point to meet its tolerance. */
export interface Remedy {
  /** The base would have to stand this near for each axis; null: no tolerance on it. */
  readonly rangeHorizontal: UsableRange | null;
  readonly rangeVertical: UsableRange | null;
  /** Or so many occupations from where the base is. */
  readonly occupations: OccupationPlan;
}

/** Bounds of what a plan may ask of a field party. */
export interface RemedyLimits {
  /** From the end of one occupation to the start of the next, seconds; null: by baseline length (`requiredSeparationS`). */
  readonly separationS: number | null;
  readonly minEpochs: number;
  readonly maxEpochs: number;
  readonly maxOccupations: number;
}

/**
 * What would have to change for a point to meet its tolerance under one of the conditions: a nearer
 * base, or more occupations.
 *
 * Given: the point, its prediction, one of its conditions, the settings of the prediction, limits; the model, where it is at hand.
 * Returned: see `Remedy`. Ranges keep the height difference, pole, base and geoid terms and the
 * number of epochs of the prediction, and leave out the turning of the base's covariance between
 * base and point, which is below a thousandth of it.
 */
export function remedy(
  point: PointWithTolerance,
  prediction: PointPrediction,
  at: ConditionPrediction,
  settings: PredictionSettings,
  limits: RemedyLimits,
  model: PrecisionModel = remedyModel(settings, at.conditions),
): Remedy {
  const { pole, base, geoidVarianceM2 } = at.components;
  const { heightDifferenceM } = prediction;
  return {
    rangeHorizontal:
      point.toleranceHorizontalM === null
        ? null
        : usableRange(model, {
            axis: 'horizontal',
            limit95M: point.toleranceHorizontalM,
            extraVarianceM2: (pole.eeM2 + pole.nnM2 + base.eeM2 + base.nnM2) / 2,
            heightDifferenceM,
          }),
    rangeVertical:
      point.toleranceVerticalM === null
        ? null
        : usableRange(model, {
            axis: 'vertical',
            limit95M: point.toleranceVerticalM,
            // The sigma of the geoid is not stated: what is left is the rest.
            extraVarianceM2: pole.uuM2 + base.uuM2 + (geoidVarianceM2 ?? 0),
            heightDifferenceM,
          }),
    occupations: occupationPlan({
      prediction: at.predicted,
      noiseHorizontalM: 0,
      noiseVerticalM: 0,
      pole,
      base,
      geoidSigmaM: settings.geoidSigmaM,
      toleranceHorizontalM: point.toleranceHorizontalM,
      toleranceVerticalM: point.toleranceVerticalM,
      ...limits,
      separationS: limits.separationS ?? requiredSeparationS(prediction.baselineM),
    }),
  };
}

/** The model that `remedy` finds ranges by: the same for all points of a plan. */
export function remedyModel(settings: PredictionSettings, conditions: Conditions): PrecisionModel {
  return averagedModel(createPrecisionModel({ ...settings.precision, conditions }), settings.epochCount);
}

/** The model of the mean of n epochs, one a second: totals times √(VIF/n); the terms are left as they are. */
export function averagedModel(model: PrecisionModel, epochCount: number): PrecisionModel {
  if (epochCount <= 1) return model;
  return {
    figures: model.figures,
    at(baselineM, heightDifferenceM) {
      const one = model.at(baselineM, heightDifferenceM);
      const left = (tauS: number): number => Math.sqrt(varianceInflation(epochCount, 1, tauS) / epochCount);
      return {
        ...one,
        horizontal: { ...one.horizontal, totalM: one.horizontal.totalM * left(one.correlationHorizontalS) },
        vertical: { ...one.vertical, totalM: one.vertical.totalM * left(one.correlationVerticalS) },
      };
    },
  };
}
