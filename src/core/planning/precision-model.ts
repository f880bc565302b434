import type { Draft } from '../../records/draft.js';
import type { Conditions, ConstantPlusProportion, ModelSettings } from '../../records/session.js';

/** One axis of a prediction, one sigma in metres. Terms a model does not use are 0. */
export interface PredictedAxis {
  readonly totalM: number;
  /** Does not grow with the baseline: receiver, antennas, surroundings. */
  readonly constantM: number;
  readonly ionosphereM: number;
  readonly troposphereM: number;
  readonly orbitM: number;
  /** The ppm part, where constant and ppm were given instead of the model's own terms. */
  readonly proportionalM: number;
}

/** Predicted precision of one fixed epoch against its base; pole and base coordinate not included. */
export interface PredictedPrecision {
  /** Per horizontal axis. */
  readonly horizontal: PredictedAxis;
  readonly vertical: PredictedAxis;
  /** Correlation times of the error, seconds. */
  readonly correlationHorizontalS: number;
  readonly correlationVerticalS: number;
}

/** The figures of a model, by which a reader finds its terms again; of an axis given by a constant and ppm, those. */
export interface ModelFigures {
  readonly horizontal: AxisFigures | GivenAxis;
  readonly vertical: (AxisFigures & ZenithFigures) | GivenAxis;
}

/** Metres, and metres a metre of baseline. */
export interface AxisFigures {
  readonly constantM: number;
  readonly ionosphere: number;
  readonly orbit: number;
  /** Of the horizontal axes; in height it comes from `ZenithFigures`. */
  readonly troposphere: number;
}

/** Error in height per error in relative zenith delay, and the latter a metre of baseline and a metre of height difference. */
export interface ZenithFigures {
  readonly zenithToHeight: number;
  readonly zenithPerBaseline: number;
  readonly zenithPerHeight: number;
}

export interface GivenAxis {
  readonly given: ConstantPlusProportion;
  readonly combine: 'rss' | 'linear';
}

export interface PrecisionModel {
  readonly figures: ModelFigures;
  /**
   * Given: baseline, metres; rover minus base in ellipsoidal height, metres, null: taken as 0; a record to be filled.
   */
  readonly at: (baselineM: number, heightDifferenceM: number | null, into?: PredictionDraft) => PredictedPrecision;
}

/** A prediction to be filled. */
export interface PredictionDraft extends Draft<PredictedPrecision> {
  readonly horizontal: Draft<PredictedAxis>;
  readonly vertical: Draft<PredictedAxis>;
}

/** A prediction to be filled. */
export function emptyPrediction(): PredictionDraft {
  return { horizontal: emptyAxis(), vertical: emptyAxis(), correlationHorizontalS: 0.5, correlationVerticalS: 0.5 };
}

function emptyAxis(): Draft<PredictedAxis> {
  return { totalM: 0.5, constantM: 0.5, ionosphereM: 0.5, troposphereM: 0.5, orbitM: 0.5, proportionalM: 0.5 };
}

/** Constant terms, one sigma per axis, metres. From memory; see docs/methods/uncertainty.md. */
const CONSTANT_HORIZONTAL_M = 0.006;
const CONSTANT_VERTICAL_M = 0.012;
const TROPOSPHERE_HORIZONTAL = 0.1e-6;
const ORBIT_HORIZONTAL = 0.03e-6;
const ORBIT_VERTICAL = 0.05e-6;
/** Error in height per error in relative zenith delay, from simulated satellite geometry. */
const ZENITH_TO_HEIGHT = 2.7;
/** Error in relative zenith delay per metre of height difference: 0.012 mm/m. */
const ZENITH_PER_HEIGHT = 0.012e-3;

interface ConditionTerms {
  readonly ionosphereHorizontal: number;
  readonly ionosphereVertical: number;
  /** Error in relative zenith delay per metre of baseline. */
  readonly zenithPerBaseline: number;
}

const CONDITION_TERMS: Readonly<Record<Conditions, ConditionTerms>> = {
  quiet: { ionosphereHorizontal: 0.2e-6, ionosphereVertical: 0.4e-6, zenithPerBaseline: 0.15e-6 },
  normal: { ionosphereHorizontal: 0.4e-6, ionosphereVertical: 0.8e-6, zenithPerBaseline: 0.25e-6 },
  active: { ionosphereHorizontal: 1.0e-6, ionosphereVertical: 2.0e-6, zenithPerBaseline: 0.35e-6 },
};

/** Correlation times: those of short baselines up to the first bound, of long ones from the second. */
const SHORT_BASELINE_M = 10_000;
const LONG_BASELINE_M = 20_000;
const SHORT_HORIZONTAL_S = 115;
const SHORT_VERTICAL_S = 300;
const LONG_HORIZONTAL_S = 600;
const LONG_VERTICAL_S = 2200;

function betweenBaselines(baselineM: number, shortS: number, longS: number): number {
  if (baselineM <= SHORT_BASELINE_M) return shortS;
  if (baselineM >= LONG_BASELINE_M) return longS;
  return shortS + ((longS - shortS) * (baselineM - SHORT_BASELINE_M)) / (LONG_BASELINE_M - SHORT_BASELINE_M);
}

function fromTerms(
  axis: Draft<PredictedAxis>,
  constantM: number,
  ionosphereM: number,
  troposphereM: number,
  orbitM: number,
): void {
  axis.totalM = Math.sqrt(
    constantM * constantM + ionosphereM * ionosphereM + troposphereM * troposphereM + orbitM * orbitM,
  );
  axis.constantM = constantM;
  axis.ionosphereM = ionosphereM;
  axis.troposphereM = troposphereM;
  axis.orbitM = orbitM;
  axis.proportionalM = 0;
}

function fromGiven(
  axis: Draft<PredictedAxis>,
  given: ConstantPlusProportion,
  combine: 'rss' | 'linear',
  baselineM: number,
): void {
  const { constantM } = given;
  const proportionalM = given.ppm * 1e-6 * baselineM;
  axis.totalM =
    combine === 'linear' ? constantM + proportionalM : Math.sqrt(constantM * constantM + proportionalM * proportionalM);
  axis.constantM = constantM;
  axis.ionosphereM = 0;
  axis.troposphereM = 0;
  axis.orbitM = 0;
  axis.proportionalM = proportionalM;
}

function figuresOf({ conditions, horizontal, vertical, combine }: ModelSettings): ModelFigures {
  const { ionosphereHorizontal, ionosphereVertical, zenithPerBaseline } = CONDITION_TERMS[conditions];
  return {
    horizontal:
      horizontal === null
        ? {
            constantM: CONSTANT_HORIZONTAL_M,
            ionosphere: ionosphereHorizontal,
            troposphere: TROPOSPHERE_HORIZONTAL,
            orbit: ORBIT_HORIZONTAL,
          }
        : { given: horizontal, combine },
    vertical:
      vertical === null
        ? {
            constantM: CONSTANT_VERTICAL_M,
            ionosphere: ionosphereVertical,
            troposphere: 0,
            orbit: ORBIT_VERTICAL,
            zenithToHeight: ZENITH_TO_HEIGHT,
            zenithPerBaseline,
            zenithPerHeight: ZENITH_PER_HEIGHT,
          }
        : { given: vertical, combine },
  };
}

/**
 * The planning model of what one fixed epoch is worth, per axis, one sigma.
 *
 * The model's own terms are combined by root-sum-square: a constant, residual ionosphere, residual
 * troposphere and orbits; in height the troposphere is 2.7·√((z_d·d)² + (z_h·Δh)²). Where the session
 * gives a constant and ppm for an axis, they replace the terms and are combined as `combine` says.
 *
 * Given: the session's precision settings. Returned: a function of the baseline.
 *
 * Notes:
 * 1. Pole and base coordinate are not included: add their variances.
 * 2. These are planning assumptions, not a specification and not a measurement.
 * 3. The error of neighbouring epochs is correlated: use the correlation times returned before
 *    dividing by any number of epochs (`varianceFactor`).
 *
 * Reference: docs/methods/uncertainty.md, "Planning model", with the source of each term.
 *
 * @example
 * // √(a² + (b·d)²) of 8 mm and 1 ppm at 6 km.
 * const given = { constantM: 0.008, ppm: 1 };
 * const none = { correlationHorizontalS: null, correlationVerticalS: null };
 * const model = createPrecisionModel({ conditions: 'normal', horizontal: given, vertical: null, combine: 'rss', ...none });
 * model.at(6000, null).horizontal.totalM; // 0.0100
 */
export function createPrecisionModel(settings: ModelSettings): PrecisionModel {
  const terms = CONDITION_TERMS[settings.conditions];
  const { horizontal, vertical, combine } = settings;
  return {
    figures: figuresOf(settings),
    at(baselineM, heightDifferenceM, into = emptyPrediction()): PredictedPrecision {
      const zenithOfBaselineM = terms.zenithPerBaseline * baselineM;
      // A height difference that is not known is taken as level.
      const zenithOfHeightM = ZENITH_PER_HEIGHT * (heightDifferenceM ?? 0);
      const zenithM = Math.sqrt(zenithOfBaselineM * zenithOfBaselineM + zenithOfHeightM * zenithOfHeightM);
      if (horizontal === null)
        fromTerms(
          into.horizontal,
          CONSTANT_HORIZONTAL_M,
          terms.ionosphereHorizontal * baselineM,
          TROPOSPHERE_HORIZONTAL * baselineM,
          ORBIT_HORIZONTAL * baselineM,
        );
      else fromGiven(into.horizontal, horizontal, combine, baselineM);
      if (vertical === null)
        fromTerms(
          into.vertical,
          CONSTANT_VERTICAL_M,
          terms.ionosphereVertical * baselineM,
          ZENITH_TO_HEIGHT * zenithM,
          ORBIT_VERTICAL * baselineM,
        );
      else fromGiven(into.vertical, vertical, combine, baselineM);
      into.correlationHorizontalS =
        settings.correlationHorizontalS ?? betweenBaselines(baselineM, SHORT_HORIZONTAL_S, LONG_HORIZONTAL_S);
      into.correlationVerticalS =
        settings.correlationVerticalS ?? betweenBaselines(baselineM, SHORT_VERTICAL_S, LONG_VERTICAL_S);
      return into;
    },
  };
}
