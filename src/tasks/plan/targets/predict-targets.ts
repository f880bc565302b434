import { doubtfulBase } from '../../../core/planning/doubtful-base.js';
import type { DoubtfulBaseEffect } from '../../../core/planning/doubtful-base.js';
import type { PlanPoint } from '../../../core/planning/plan-point.js';
import { isWithin } from '../../../core/planning/is-within.js';
import { createPredictor } from '../../../core/planning/prediction.js';
import type { ConditionPrediction, PointPrediction } from '../../../core/planning/prediction.js';
import { remedy, remedyModel } from '../../../core/planning/remedy.js';
import type { Remedy } from '../../../core/planning/remedy.js';
import { InternalError } from '../../../records/internal-error.js';
import type { PlacedBases } from '../place-bases.js';
import type { PlanSetup, PlanTarget } from './plan-target.js';
import { entryAt } from '../../../records/present.js';

/**
 * What would have to change: nothing; one longer occupation; more occupations apart in time; a base
 * nearer by; or nothing within reach, because the tolerance is below what the model can give at all.
 */
export type WayOut = 'none' | 'longer' | 'repeat' | 'nearer-base' | 'tolerance';

/** A target with everything the plan says of it. */
export interface PlannedTarget {
  readonly target: PlanTarget;
  readonly base: PlanPoint;
  readonly prediction: PointPrediction;
  /** The entry of `prediction` that counts. */
  readonly at: ConditionPrediction;
  readonly remedy: Remedy;
  readonly verdict: 'within' | 'outside';
  readonly wayOut: WayOut;
  /** Null: not asked. */
  readonly effect: DoubtfulBaseEffect | null;
  /** Other bases this target should be observed from too. */
  readonly tieBases: readonly string[];
}

/** Ties listed at each target are these first ones of a pair of bases; the rest could be used too. */
export const TIES_LISTED = 3;

/**
 * Predicts the targets one by one, in their order.
 *
 * Given: the setup, the targets, the bases. Yielded: one planned target each. The prediction is that
 * of `createPredictor`, whose covariance is the one `reduce-points` writes.
 *
 * @example
 * // One work point 10 km from a given base of 10 mm with a pole of 4 mm: 31.829 mm, and 40 mm are asked for.
 * const geodesic = createGeodesic(WGS84);
 * const base = { id: 'B', latitudeDeg: -31.5, longitudeDeg: 21.4, ellipsoidalHeightM: 1000 };
 * const own = { horizontal: null, vertical: null, correlationHorizontalS: null, correlationVerticalS: null };
 * const prediction = {
 *   precision: { conditions: 'normal', combine: 'rss', ...own },
 *   pole: { lengthM: 2, tiltDeg: null, tiltAzimuthDeg: null, convention: null },
 *   poleSigmas: { poleSigmaM: 0.002, plumbSigmaDeg: (0.002 * 180) / Math.PI, tiltSigmaDeg: 0, tiltAzimuthSigmaDeg: 0 },
 *   ...{ baseSigmaHorizontalM: 0.01, baseSigmaVerticalM: 0.02, geoidSigmaM: null, epochCount: 1 },
 * };
 * const limits = { separationS: null, minEpochs: 1, maxEpochs: 60, maxOccupations: 2 };
 * const setup = { geodesic, prediction, conditions: 'normal', limits, siting: { kind: 'given', base }, baseErrorM: null };
 * const place = { ...geodesic.direct(-31.5, 21.4, 90, 10e3), id: 'P', ellipsoidalHeightM: 1000, kind: 'point' };
 * const targets = [{ ...place, toleranceHorizontalM: 0.04, toleranceVerticalM: null }];
 * const [planned] = [...predictTargets(setup, targets, placeBases(setup, targets).value)];
 * planned.verdict; // 'within'
 * planned.at.uncertainty.circle95M; // 0.03183
 */
export function* predictTargets(
  setup: PlanSetup,
  targets: readonly PlanTarget[],
  placed: PlacedBases,
): Generator<PlannedTarget> {
  const predictors = placed.bases.map((base) => ({
    base,
    predictor: createPredictor(setup.geodesic, base, setup.prediction),
  }));
  const model = remedyModel(setup.prediction, setup.conditions);
  const tiesOf = tieNames(placed);
  for (const [index, target] of targets.entries()) {
    const from = predictors[entryAt(placed.baseOf, index)];
    if (from === undefined) throw new InternalError('a target has no base');
    const prediction = from.predictor.at(target);
    const at = prediction.byConditions.find(({ conditions }) => conditions === setup.conditions);
    if (at === undefined) throw new InternalError('a prediction lacks its conditions');
    const change = remedy(target, prediction, at, setup.prediction, setup.limits, model);
    const verdict = isWithin(at) ? 'within' : 'outside';
    yield {
      target,
      base: from.base,
      prediction,
      at,
      remedy: change,
      verdict,
      wayOut: verdict === 'within' ? 'none' : wayOut(change),
      effect:
        setup.baseErrorM === null
          ? null
          : (doubtfulBase(setup.geodesic, from.base, [target], setup.baseErrorM)[0] ?? null),
      tieBases: (tiesOf.get(index) ?? []).filter((name) => name !== from.base.id),
    };
  }
}

function wayOut({ occupations, rangeHorizontal, rangeVertical }: Remedy): WayOut {
  if (occupations.status === 'reached') return occupations.chosen.occupations > 1 ? 'repeat' : 'longer';
  const reachable = [rangeHorizontal, rangeVertical].every((range) => range?.status !== 'tolerance-below-constant');
  return reachable ? 'nearer-base' : 'tolerance';
}

function tieNames(placed: PlacedBases): ReadonlyMap<number, readonly string[]> {
  const names = new Map<number, string[]>();
  for (const { baseA, baseB, targets } of placed.ties) {
    for (const target of targets.slice(0, TIES_LISTED)) names.set(target, [...(names.get(target) ?? []), baseA, baseB]);
  }
  return names;
}
