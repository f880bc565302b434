import { localFrameAt } from '../../core/ellipsoid/local-frame.js';
import { ageCovariance, ageCovarianceOfMean } from '../../core/observation/uncertainty/age-covariance.js';
import { baseCovariance } from '../../core/observation/uncertainty/base-covariance.js';
import { fastNoise } from '../../core/observation/averaging/fast-noise.js';
import { covarianceFromSigmas, ZERO_COVARIANCE } from '../../core/observation/uncertainty/local-covariance.js';
import { poleCovariance } from '../../core/observation/uncertainty/pole-covariance.js';
import { bendCovariance } from '../../core/observation/uncertainty/vector-bend.js';
import { occupationUncertainty } from '../../core/observation/uncertainty/uncertainty-components.js';
import type { UsedEpochs } from '../../core/observation/uncertainty/uncertainty-components.js';
import type { PredictedPrecision } from '../../core/planning/precision-model.js';
import type { Fix } from '../../records/points/fix.js';
import type { LocalCovariance } from '../../records/points/point.js';
import type { RecordList } from '../../records/record-list.js';
import type { Baseline, ReducedPosition } from '../../records/points/reduced-point.js';
import type { AveragedEpochs } from './epochs/average-epochs.js';
import type { OccupationFixes } from './occupations/reduce-occupation.js';
import type { ReductionSetup } from './reduction-setup.js';
import type { ReducedEpoch } from './reduction-working.js';

/** The uncertainty of a reduced occupation, from its accepted epochs, pole, base, correction and geoid. */
export function uncertaintyOfOccupation(
  input: OccupationFixes,
  reduced: RecordList<ReducedEpoch>,
  accepted: readonly number[],
  averaged: AveragedEpochs | null,
  position: ReducedPosition,
  baseline: Baseline | null,
  prediction: PredictedPrecision,
  setup: ReductionSetup,
): ReturnType<typeof occupationUncertainty> {
  // Where no epoch was accepted, the first says how it was measured.
  const index = accepted[0] ?? 0;
  const fix = input.fixes.at(index);
  const pole = reduced.at(index)?.pole ?? null;
  const { base } = input;
  const delta = base?.correction?.local ?? null;
  const frame = localFrameAt(position.geodetic.latitudeDeg, position.geodetic.longitudeDeg);
  return occupationUncertainty({
    epochs: averaged === null ? null : usedEpochs(averaged),
    epochCount: fix?.epochCount ?? 1,
    reported: fix === undefined ? null : reportedCovariance(fix),
    prediction,
    pole: pole === null ? ZERO_COVARIANCE : poleCovariance(pole, setup.rover),
    base:
      base === null
        ? ZERO_COVARIANCE
        : baseCovariance(base.settings.sigmaHorizontalM, base.settings.sigmaVerticalM, base.frame, frame),
    bend:
      delta === null || baseline === null
        ? ZERO_COVARIANCE
        : bendCovariance(delta, baseline.distanceM, baseline.azimuthDeg),
    age:
      averaged === null
        ? ageCovariance(fix?.correctionAgeS ?? null, setup.ageRateMPerS)
        : ageOfMean(input.fixes, accepted, averaged, setup.ageRateMPerS),
    geoidSigmaM: position.geoidHeightM === null ? null : setup.geoidSigmaM,
  });
}

function ageOfMean(
  fixes: RecordList<Fix>,
  accepted: readonly number[],
  { average }: AveragedEpochs,
  rateMPerS: number,
): LocalCovariance {
  const { weightsEast, weightsNorth, weightsUp } = average;
  const ageS = (place: number): number | null => fixes.at(accepted[place] as number)?.correctionAgeS ?? null;
  return ageCovarianceOfMean({ ageS, weightsEast, weightsNorth, weightsUp }, rateMPerS);
}

function usedEpochs({ timesS, east, north, up, average }: AveragedEpochs): UsedEpochs {
  return {
    timesS,
    weightsEast: average.weightsEast,
    weightsNorth: average.weightsNorth,
    weightsUp: average.weightsUp,
    noiseEastM: fastNoise(east, average.outlier),
    noiseNorthM: fastNoise(north, average.outlier),
    noiseUpM: fastNoise(up, average.outlier),
  };
}

/** The covariance that a fix states; null where it states none along all three axes. */
export function reportedCovariance(fix: Fix): LocalCovariance | null {
  const { sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn } = fix;
  if (sigmaEastM === null || sigmaNorthM === null || sigmaUpM === null) return null;
  return covarianceFromSigmas(sigmaEastM, sigmaNorthM, sigmaUpM, correlationEn);
}
