import { geocentricToLocal, localFrameAt } from '../../../core/ellipsoid/local-frame.js';
import type { Fix } from '../../../records/points/fix.js';
import type { GeocentricPoint, LocalVector } from '../../../records/points/point.js';
import type { ProblemCode } from '../../../records/codes/problem-codes.js';
import type { RecordList } from '../../../records/record-list.js';
import type { EpochResult } from '../../../records/points/reduced-point.js';
import type { AveragedEpochs } from './average-epochs.js';
import { derivedList, recordAt } from '../packing/packed-records.js';
import type { ReducedEpoch } from '../reduction-working.js';

const OUTLIER: readonly ProblemCode[] = Object.freeze(['epoch-outlier'] as const);
const ACCEPTED: readonly ProblemCode[] = Object.freeze([]);
const NO_RESIDUAL: LocalVector = Object.freeze({ eastM: 0, northM: 0, upM: 0 });

/**
 * What became of each epoch: its refusals (an outlier of the mean counts as one), its weight (the
 * mean of the weights of its axes) and its residual from the mean.
 */
export function epochResults(
  fixes: RecordList<Fix>,
  reduced: RecordList<ReducedEpoch>,
  codes: RecordList<readonly ProblemCode[]>,
  accepted: readonly number[],
  averaged: AveragedEpochs | null,
  mean: GeocentricPoint | null,
): RecordList<EpochResult> {
  const only = fixes.at(0);
  const onlyReduced = reduced.at(0);
  if (fixes.length === 1 && only !== undefined && onlyReduced !== undefined) {
    return [
      {
        fix: only,
        tip: onlyReduced.tip,
        refusals: codes.at(0) ?? ACCEPTED,
        weight: mean === null ? 0 : 1,
        residual: mean === null ? null : NO_RESIDUAL,
      },
    ];
  }
  // Where no epoch was accepted, all of them are shown about the first.
  const first = reduced.at(accepted[0] ?? 0);
  // Without an epoch there is no row that would be shown about this frame.
  const frame = averaged?.frame ?? localFrameAt(first?.geodetic.latitudeDeg ?? 0, first?.geodetic.longitudeDeg ?? 0);
  const placeOf = placesAmong(accepted, fixes.length);
  return derivedList(fixes, (fix, index) => {
    let refusals = codes.at(index) ?? ACCEPTED;
    let weight = 0;
    const place = placeOf(index);
    if (place >= 0) {
      if (averaged === null) weight = 1;
      else if (averaged.average.outlier[place] !== 0 && averaged.average.usedCount > 0) refusals = OUTLIER;
      else
        weight =
          // On the way of an epoch: its place is among the accepted ones.
          ((averaged.average.weightsEast[place] as number) +
            (averaged.average.weightsNorth[place] as number) +
            (averaged.average.weightsUp[place] as number)) /
          3;
    }
    const { tip } = recordAt(reduced, index);
    const residual =
      mean === null
        ? null
        : geocentricToLocal(frame, { xM: tip.xM - mean.xM, yM: tip.yM - mean.yM, zM: tip.zM - mean.zM });
    return { fix, tip, refusals, weight, residual };
  });
}

/** The place of an epoch among those accepted, −1 where it is none of them. */
function placesAmong(accepted: readonly number[], count: number): (index: number) => number {
  if (accepted.length === count) return (index) => index;
  const places = new Int32Array(count).fill(-1);
  for (const [place, index] of accepted.entries()) places[index] = place;
  return (index) => places[index] as number;
}
