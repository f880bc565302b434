import type { GeocentricPoint } from '../../../records/points/point.js';
import type { Symmetric3 } from '../../numeric/symmetric3.js';
import { moveByVelocity } from '../plates/plate-motion.js';
import type { GeocentricVelocity } from '../plates/plate-motion.js';

/** A place with its velocity as an adjustment gives them. */
export interface SiteEstimate {
  readonly referenceEpochYear: number;
  readonly position: GeocentricPoint;
  /** Null: not estimated. */
  readonly velocity: GeocentricVelocity | null;
  /** Of X, Y, Z and, where there is a velocity, of its three: 3 × 3 or 6 × 6, row by row, metres and metres per year. */
  readonly covariance: Float64Array;
}

/**
 * The place at an epoch, with its covariance.
 *
 * Given: the estimate; decimal year. Returned: X + V dt and C_XX + dt (C_XV + C_VX) + dt² C_VV; without a velocity the place
 * stays, and the caller has to move it otherwise.
 * Reference: propagation of covariance; SINEX 2.02 for the order.
 */
export function siteAt(
  estimate: SiteEstimate,
  epochYear: number,
): { readonly position: GeocentricPoint; readonly covariance: Symmetric3 } {
  const { velocity, referenceEpochYear, covariance } = estimate;
  const dt = velocity === null ? 0 : epochYear - referenceEpochYear;
  const n = velocity === null ? 3 : 6;
  const at = (i: number, j: number): number => covariance[i * n + j] as number;
  const of = (i: number, j: number): number =>
    n === 3 ? at(i, j) : at(i, j) + dt * (at(i, j + 3) + at(i + 3, j)) + dt * dt * at(i + 3, j + 3);
  return {
    position:
      velocity === null
        ? estimate.position
        : moveByVelocity(estimate.position, velocity, referenceEpochYear, epochYear),
    covariance: { xx: of(0, 0), xy: of(0, 1), xz: of(0, 2), yy: of(1, 1), yz: of(1, 2), zz: of(2, 2) },
  };
}
