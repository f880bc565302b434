import { geocentricToLocal, localFrameAt } from '../core/geodesy/local-frame.js';
import type { Fix } from '../records/fix.js';
import type { GeocentricPoint, LocalVector } from '../records/point.js';
import type { ProblemCode } from '../records/problem-codes.js';
import type { EpochResult } from '../records/reduced-point.js';
import type { AveragedEpochs } from './average-epochs.js';
import type { ReducedEpoch } from './reduction-working.js';

const OUTLIER: readonly ProblemCode[] = Object.freeze(['epoch-outlier'] as const);
const ACCEPTED: readonly ProblemCode[] = Object.freeze([]);
const NO_RESIDUAL: LocalVector = Object.freeze({ eastM: 0, northM: 0, upM: 0 });

/**
 * What became of each epoch: its refusals (an outlier of the mean counts as one), its weight (the
 * mean of the weights of its axes) and its residual from the mean.
 */
export function epochResults(
  fixes: readonly Fix[],
  reduced: readonly ReducedEpoch[],
  codes: readonly (readonly ProblemCode[])[],
  accepted: readonly number[],
  averaged: AveragedEpochs | null,
  mean: GeocentricPoint | null,
): readonly EpochResult[] {
  const only = fixes[0];
  const onlyReduced = reduced[0];
  if (fixes.length === 1 && only !== undefined && onlyReduced !== undefined) {
    return [{ fix: only, tip: onlyReduced.tip, refusals: codes[0] ?? ACCEPTED, weight: mean === null ? 0 : 1, residual: mean === null ? null : NO_RESIDUAL }];
  }
  const first = reduced[accepted[0] ?? 0];
  const frame = averaged?.frame ?? localFrameAt(first?.geodetic.latitudeDeg ?? 0, first?.geodetic.longitudeDeg ?? 0);
  const results: EpochResult[] = [];
  let next = 0;
  for (const [index, fix] of fixes.entries()) {
    const epoch = reduced[index];
    if (epoch === undefined) continue;
    let refusals = codes[index] ?? ACCEPTED;
    let weight = 0;
    if (accepted[next] === index) {
      if (averaged === null) weight = 1;
      else if (averaged.average.outlier[next] !== 0 && averaged.average.usedCount > 0) refusals = OUTLIER;
      else weight = ((averaged.average.weightsEast[next] ?? 0) + (averaged.average.weightsNorth[next] ?? 0) + (averaged.average.weightsUp[next] ?? 0)) / 3;
      next += 1;
    }
    const { tip } = epoch;
    const residual = mean === null ? null : geocentricToLocal(frame, { xM: tip.xM - mean.xM, yM: tip.yM - mean.yM, zM: tip.zM - mean.zM });
    results.push({ fix, tip, refusals, weight, residual });
  }
  return results;
}
