import { WGS84 } from '../../../src/core/ellipsoid/ellipsoid.js';
import { createGeodesic } from '../../../src/core/ellipsoid/geodesic.js';
import type { Geodesic } from '../../../src/core/ellipsoid/geodesic.js';
import type { BaseCandidate } from '../../../src/core/planning/plan-point.js';
import type { PredictionSettings } from '../../../src/core/planning/prediction.js';
import type { CandidateChoice, PlanSetup, PlanTarget } from '../../../src/tasks/plan/targets/plan-target.js';

export const geodesic: Geodesic = createGeodesic(WGS84);

export const PREDICTION: PredictionSettings = {
  precision: {
    conditions: 'normal',
    horizontal: null,
    vertical: null,
    combine: 'rss',
    correlationHorizontalS: null,
    correlationVerticalS: null,
  },
  pole: { lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null },
  poleSigmas: { poleSigmaM: 0.001, plumbSigmaDeg: 0.1, tiltSigmaDeg: 0.3, tiltAzimuthSigmaDeg: 1 },
  baseSigmaHorizontalM: 0.01,
  baseSigmaVerticalM: 0.02,
  geoidSigmaM: null,
  epochCount: 1,
};

export function setupOf(siting: PlanSetup['siting'], more: Partial<PlanSetup> = {}): PlanSetup {
  return {
    geodesic,
    prediction: PREDICTION,
    conditions: 'normal',
    limits: { separationS: null, minEpochs: 1, maxEpochs: 1800, maxOccupations: 4 },
    siting,
    baseErrorM: null,
    ...more,
  };
}

export function target(
  id: string,
  latitudeDeg: number,
  longitudeDeg: number,
  more: Partial<PlanTarget> = {},
): PlanTarget {
  return {
    id,
    latitudeDeg,
    longitudeDeg,
    ellipsoidalHeightM: null,
    toleranceHorizontalM: 0.05,
    toleranceVerticalM: 0.1,
    kind: 'point',
    featureId: null,
    chainageM: null,
    passThrough: [],
    ...more,
  };
}

export function candidate(
  id: string,
  latitudeDeg: number,
  longitudeDeg: number,
  more: Partial<BaseCandidate> = {},
): BaseCandidate {
  return {
    id,
    latitudeDeg,
    longitudeDeg,
    ellipsoidalHeightM: null,
    cellular: null,
    skyScore: null,
    cost: null,
    ...more,
  };
}

export function choice(candidates: readonly BaseCandidate[], more: Partial<CandidateChoice> = {}): CandidateChoice {
  return { candidates, demands: { cellular: false, minSkyScore: null, maxCost: null }, tieFraction: 0.01, ...more };
}
