import { emptyCovariance, emptyFrame, localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import { ageCovariance } from '../../../core/observation/uncertainty/age-covariance.js';
import { baseCovariance } from '../../../core/observation/uncertainty/base-covariance.js';
import { ZERO_COVARIANCE } from '../../../core/observation/uncertainty/local-covariance.js';
import { poleCovariance } from '../../../core/observation/uncertainty/pole-covariance.js';
import { emptyFigures, positionalUncertainty } from '../../../core/observation/uncertainty/positional-uncertainty.js';
import type { PositionalUncertainty } from '../../../core/observation/uncertainty/positional-uncertainty.js';
import {
  emptyUncertainty,
  occupationUncertainty,
} from '../../../core/observation/uncertainty/uncertainty-components.js';
import type {
  UncertaintyComponents,
  UncertaintyInput,
} from '../../../core/observation/uncertainty/uncertainty-components.js';
import { bendCovariance } from '../../../core/observation/uncertainty/vector-bend.js';
import { emptyPrediction } from '../../../core/planning/precision-model.js';
import type { Draft } from '../../../records/draft.js';
import type { Fix } from '../../../records/points/fix.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { Baseline, ReducedPosition } from '../../../records/points/reduced-point.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import type { ReductionSetup } from '../reduction-setup.js';
import { reportedCovariance } from '../uncertainty-of-occupation.js';

/** The uncertainty of single fixes, in the same records each time. */
export interface SingleFigures {
  readonly uncertainty: UncertaintyComponents;
  readonly summary: PositionalUncertainty;
  /**
   * Fills both. Given: the fix; its base and the baseline from it, null: none is known; its position; metres of plumb pole between
   * both, null: none.
   */
  readonly reckon: (
    fix: Fix,
    base: PreparedBase | null,
    baseline: Baseline | null,
    position: ReducedPosition,
    reachM: number | null,
  ) => void;
}

/** What single fixes are worth. */
export function createSingleFigures(setup: ReductionSetup): SingleFigures {
  const frame = emptyFrame();
  const prediction = emptyPrediction();
  const turned = emptyCovariance();
  const bent = emptyCovariance();
  const uncertainty = emptyUncertainty();
  const summary = emptyFigures();
  const poleOf = createPoleMemory(setup);
  const input: Draft<UncertaintyInput> = {
    epochs: null,
    epochCount: 1,
    reported: null,
    prediction,
    pole: ZERO_COVARIANCE,
    base: ZERO_COVARIANCE,
    bend: ZERO_COVARIANCE,
    age: ZERO_COVARIANCE,
    geoidSigmaM: 0.5,
  };
  return {
    uncertainty,
    summary,
    reckon(fix, base, baseline, { geodetic, geoidHeightM }, reachM) {
      // No baseline is known: the part of the model that does not grow with it.
      setup.precision.at(baseline?.distanceM ?? 0, baseline?.heightDifferenceM ?? null, prediction);
      localFrameAt(geodetic.latitudeDeg, geodetic.longitudeDeg, frame);
      const delta = base?.correction?.local ?? null;
      input.epochCount = fix.epochCount;
      input.reported = reportedCovariance(fix);
      input.pole = reachM === null ? ZERO_COVARIANCE : poleOf(reachM);
      input.base =
        base === null
          ? ZERO_COVARIANCE
          : baseCovariance(base.settings.sigmaHorizontalM, base.settings.sigmaVerticalM, base.frame, frame, turned);
      input.bend =
        delta === null || baseline === null
          ? ZERO_COVARIANCE
          : bendCovariance(delta, baseline.distanceM, baseline.azimuthDeg, bent);
      input.age = ageCovariance(fix.correctionAgeS, setup.ageRateMPerS);
      input.geoidSigmaM = geoidHeightM === null ? null : setup.geoidSigmaM;
      const { total, geoidVarianceM2 } = occupationUncertainty(input, uncertainty);
      positionalUncertainty(total, geoidHeightM === null ? null : geoidVarianceM2, summary);
    },
  };
}

/** The covariance of a plumb pole, of which a run has few lengths. */
function createPoleMemory({ rover }: ReductionSetup): (reachM: number) => LocalCovariance {
  let lastM = NaN;
  let last = ZERO_COVARIANCE;
  return (reachM) => {
    if (reachM !== lastM) {
      lastM = reachM;
      last = poleCovariance(
        { lengthM: reachM, tiltDeg: null, tiltAzimuthDeg: null, convention: rover.tiltAzimuth },
        rover,
      );
    }
    return last;
  };
}
