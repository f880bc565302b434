import type { LocalFrame } from '../ellipsoid/local-frame.js';
import { localFrameAt } from '../ellipsoid/local-frame.js';
import type { Geodesic } from '../ellipsoid/geodesic.js';
import { baseCovariance } from '../observation/uncertainty/base-covariance.js';
import { poleCovariance } from '../observation/uncertainty/pole-covariance.js';
import type { PoleSigmas } from '../observation/uncertainty/pole-covariance.js';
import type { PoleGeometry } from '../observation/pole-reduction.js';
import { positionalUncertainty } from '../observation/uncertainty/positional-uncertainty.js';
import type { PositionalUncertainty } from '../observation/uncertainty/positional-uncertainty.js';
import { occupationUncertainty } from '../observation/uncertainty/uncertainty-components.js';
import type { UncertaintyComponents } from '../observation/uncertainty/uncertainty-components.js';
import type { Conditions, ModelSettings } from '../../records/session.js';
import type { PlanPoint } from './plan-point.js';
import { createPrecisionModel } from './precision-model.js';
import type { PrecisionModel, PredictedPrecision } from './precision-model.js';
import { termShares } from './term-shares.js';
import type { TermShares } from './term-shares.js';

/** The three planning conditions, in the order they are printed. */
export const ALL_CONDITIONS: readonly Conditions[] = ['quiet', 'normal', 'active'];

/** What is the same for every point of a plan. */
export interface PredictionSettings {
  readonly precision: ModelSettings;
  readonly pole: PoleGeometry;
  readonly poleSigmas: PoleSigmas;
  /** One sigma of the base coordinate; null: not stated, left out and said so. */
  readonly baseSigmaHorizontalM: number | null;
  readonly baseSigmaVerticalM: number | null;
  /** One sigma of the geoid height where the tolerance is of orthometric heights; null: left out. */
  readonly geoidSigmaM: number | null;
  /** Epochs in the planned occupation, one a second; 1: a single epoch. */
  readonly epochCount: number;
}

/** The answer to "is it good enough". `not-asked`: no tolerance on that axis. */
export type AxisVerdict = 'within' | 'outside' | 'not-asked';

export interface ConditionPrediction {
  readonly conditions: Conditions;
  readonly predicted: PredictedPrecision;
  readonly components: UncertaintyComponents;
  readonly uncertainty: PositionalUncertainty;
  readonly shares: TermShares;
  readonly horizontal: AxisVerdict;
  readonly vertical: AxisVerdict;
}

export interface PointPrediction {
  readonly pointId: string;
  readonly baselineM: number;
  /** From base to point; null where they coincide. */
  readonly azimuthDeg: number | null;
  /** Point minus base; null: a height is missing, and the term that needs it is left out. */
  readonly heightDifferenceM: number | null;
  /** One entry for each of quiet, normal, active. */
  readonly byConditions: readonly ConditionPrediction[];
}

/** A point with what is asked of it, 95 %; null: not asked. */
export interface PointWithTolerance extends PlanPoint {
  readonly toleranceHorizontalM: number | null;
  readonly toleranceVerticalM: number | null;
}

/** Predicts points from one base. */
export interface Predictor {
  readonly at: (point: PointWithTolerance) => PointPrediction;
}

/**
 * A predictor of what points measured from one base will be worth under quiet, normal and active
 * conditions.
 *
 * Given: geodesic calculator; base, degrees; settings. Returned: a function of the point. The
 * covariance is that of `occupationUncertainty`, the function `reduce-points` writes its sigmas
 * with: there is no second error model.
 * Note: where the session gives a constant and ppm for both axes, the three conditions agree.
 * Reference: docs/methods/uncertainty.md.
 *
 * @example
 * // Planning terms, pole of 4 mm and base of 10 mm at 10 km summed in squares: 31.829 mm; under active conditions 38.9.
 * const geodesic = createGeodesic(WGS84);
 * const own = { horizontal: null, vertical: null, correlationHorizontalS: null, correlationVerticalS: null };
 * const predictor = createPredictor(geodesic, { id: 'B', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 }, {
 *   precision: { conditions: 'normal', combine: 'rss', ...own },
 *   pole: { lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null },
 *   poleSigmas: { poleSigmaM: 0.002, plumbSigmaDeg: (0.002 * 180) / Math.PI, tiltSigmaDeg: 0, tiltAzimuthSigmaDeg: 0 },
 *   ...{ baseSigmaHorizontalM: 0.01, baseSigmaVerticalM: 0.02, geoidSigmaM: null, epochCount: 1 },
 * });
 * const place = { ...geodesic.direct(-31.5, 21.4, 90, 10e3), id: 'P', ellipsoidalHeightM: 1000 };
 * const { byConditions } = predictor.at({ ...place, toleranceHorizontalM: 0.035, toleranceVerticalM: null });
 * byConditions.map(({ conditions, horizontal }) => [conditions, horizontal]); // [['quiet', 'within'], ['normal', 'within'], ['active', 'outside']]
 * byConditions[1].uncertainty.circle95M; // 0.03183
 */
export function createPredictor(geodesic: Geodesic, base: PlanPoint, settings: PredictionSettings): Predictor {
  const models = ALL_CONDITIONS.map((conditions) => ({
    conditions,
    model: createPrecisionModel({ ...settings.precision, conditions }),
  }));
  const baseFrame = localFrameAt(base.latitudeDeg, base.longitudeDeg);
  const pole = poleCovariance(settings.pole, settings.poleSigmas);
  return {
    at(point): PointPrediction {
      const line = geodesic.inverse(base.latitudeDeg, base.longitudeDeg, point.latitudeDeg, point.longitudeDeg);
      const heightDifferenceM =
        base.ellipsoidalHeightM === null || point.ellipsoidalHeightM === null
          ? null
          : point.ellipsoidalHeightM - base.ellipsoidalHeightM;
      const frame = localFrameAt(point.latitudeDeg, point.longitudeDeg);
      const baseM2 = baseCovarianceAt(settings, baseFrame, frame);
      return {
        pointId: point.id,
        baselineM: line.distanceM,
        azimuthDeg: line.azimuthDeg,
        heightDifferenceM,
        byConditions: models.map(({ conditions, model }) =>
          predict(conditions, model, settings, line.distanceM, heightDifferenceM, pole, baseM2, point),
        ),
      };
    },
  };
}

function baseCovarianceAt(
  settings: PredictionSettings,
  baseFrame: LocalFrame,
  frame: LocalFrame,
): UncertaintyComponents['base'] {
  return baseCovariance(settings.baseSigmaHorizontalM, settings.baseSigmaVerticalM, baseFrame, frame);
}

function predict(
  conditions: Conditions,
  model: PrecisionModel,
  settings: PredictionSettings,
  baselineM: number,
  heightDifferenceM: number | null,
  pole: UncertaintyComponents['pole'],
  base: UncertaintyComponents['base'],
  point: PointWithTolerance,
): ConditionPrediction {
  const predicted = model.at(baselineM, heightDifferenceM);
  const components = occupationUncertainty({
    epochs: null,
    epochCount: settings.epochCount,
    reported: null,
    prediction: predicted,
    pole,
    base,
    geoidSigmaM: settings.geoidSigmaM,
  });
  const uncertainty = positionalUncertainty(components.total, components.geoidVarianceM2);
  return {
    conditions,
    predicted,
    components,
    uncertainty,
    shares: termShares(predicted, components),
    horizontal: verdict(uncertainty.circle95M, point.toleranceHorizontalM),
    vertical: verdict(uncertainty.vertical95M, point.toleranceVerticalM),
  };
}

function verdict(value95M: number, limit95M: number | null): AxisVerdict {
  return limit95M === null ? 'not-asked' : value95M <= limit95M ? 'within' : 'outside';
}
