import { correlationAfter, RECORDING_VARIANCE_M2 } from '../../../core/observation/repeats/occupation-estimate.js';
import { splitCovariance } from '../../../core/quality/split-covariance.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { PointRow } from '../../../records/points/point-row.js';
import { entryAt } from '../../../records/present.js';
import type { RegisterAxis } from '../../../records/reports/register-report.js';
import type { PreparedBase } from '../../bases/prepare-bases.js';
import { markAndSetUp } from '../../repeats/set-up-identity.js';
import { measuredCovariance, placeDifference } from '../compare/check-tolerances-difference.js';
import { baseVector, placePoint } from '../compare/check-tolerances-place.js';
import type { CheckSetup, PlacedPoint } from '../judge/check-tolerances-setup.js';

/** The axes of a register in their order. */
export const REGISTER_AXES: readonly RegisterAxis[] = ['first', 'second', 'up'];

/** What errors of one axis are made of, m². */
interface AxisParts {
  readonly residualM: number | null;
  /** What the occupation has alone, and the slow error that fades with time. */
  readonly independentM2: number;
  readonly slowM2: number;
  readonly tauS: number;
}

/** A control point as one occupation saw it. */
export interface SeenMark {
  readonly axes: Readonly<Record<RegisterAxis, AxisParts>>;
  readonly heightKind: 'orthometric' | 'ellipsoidal' | null;
  /** Middle of its epochs, milliseconds since 1970-01-01T00:00:00Z; null: not stated. */
  readonly atMs: number | null;
  /** Both have a height, of kinds that nothing joins. */
  readonly heightsDiffer: boolean;
  /** The planning model stands in for its sigmas. */
  readonly isAssumed: boolean;
}

/** A residual of a set-up, one axis: of all its occupations together, with the variance that no other mark shares. */
export interface SetUpResidual {
  readonly residualM: number;
  readonly ownM2: number;
}

/**
 * Measured minus control of one occupation, and what its errors are made of but for the base's: that is kept apart, since all marks of a set-up share it.
 *
 * Given: the occupation; the control; the base it was measured from; the setup of a check. Returned: see `SeenMark`; null where no covariance can be had.
 */
export function seenMark(row: PointRow, known: PlacedPoint, base: PreparedBase, setup: CheckSetup): SeenMark | null {
  const measured = placePoint(row, setup);
  const vector = baseVector(measured, setup);
  const { covariance, isAssumed } = measuredCovariance(measured, vector, setup);
  if (covariance === null) return null;
  const { firstEpochMs, lastEpochMs } = row;
  const isTimed = firstEpochMs !== null && lastEpochMs !== null;
  const durationS = isTimed ? (lastEpochMs - firstEpochMs) / 1000 : 0;
  const parts = splitCovariance(covariance, vector, setup.precision, markAndSetUp(base.identity), durationS);
  // No baseline is known: the part of the model that does not grow with it.
  const times = setup.precision.at(vector.distanceM ?? 0, vector.heightDifferenceM);
  const difference = placeDifference(measured, known, setup);
  const axis = (residualM: number | null, key: keyof LocalCovariance, tauS: number): AxisParts => ({
    residualM,
    independentM2: parts.independent[key],
    slowM2: parts.correlated[key] + parts.baseline[key],
    tauS,
  });
  return {
    axes: {
      first: axis(difference.firstM, 'eeM2', times.correlationHorizontalS),
      second: axis(difference.secondM, 'nnM2', times.correlationHorizontalS),
      up: axis(difference.upM, 'uuM2', times.correlationVerticalS),
    },
    heightKind: difference.heightKind,
    atMs: isTimed ? (firstEpochMs + lastEpochMs) / 2 : null,
    heightsDiffer: difference.heightsDiffer,
    isAssumed,
  };
}

/** The occupations of one mark in one set-up as one residual: each weighted by its own variance, slow errors correlated by the time between. */
export function setUpResidual(seen: readonly SeenMark[], axis: RegisterAxis): SetUpResidual | null {
  const usable = seen.flatMap(({ axes, atMs }) => {
    const { residualM, ...parts } = axes[axis];
    return residualM === null ? [] : [{ ...parts, residualM, atMs }];
  });
  if (usable.length === 0) return null;
  const weights = usable.map(({ independentM2, slowM2 }) => 1 / (independentM2 + slowM2 + RECORDING_VARIANCE_M2));
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  let residualM = 0;
  let ownM2 = RECORDING_VARIANCE_M2;
  for (const [i, one] of usable.entries()) {
    const share = entryAt(weights, i) / total;
    residualM += share * one.residualM;
    ownM2 += share * share * one.independentM2;
    for (const [j, other] of usable.entries()) {
      // Without times nothing says that a slow error has changed.
      const apartS = one.atMs === null || other.atMs === null ? 0 : Math.abs(one.atMs - other.atMs) / 1000;
      const correlation = i === j ? 1 : correlationAfter(apartS, one.tauS);
      const together = Math.sqrt(one.slowM2 * other.slowM2) * correlation;
      ownM2 += ((share * entryAt(weights, j)) / total) * together;
    }
  }
  return { residualM, ownM2 };
}
