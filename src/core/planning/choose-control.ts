import type { Geodesic } from '../ellipsoid/geodesic.js';
import type { PlanPlace } from './plan-point.js';

/** A control point whose coordinates do not depend on the base. */
export interface TimetableControl extends PlanPlace {
  readonly id: string;
}

/** The control points of a day. */
export interface ChosenControl {
  /** Nearest the base: visited first and last. */
  readonly near: TimetableControl;
  /** Nearest of those beyond the farthest work point, else the farthest: visited in the middle. */
  readonly beyond: TimetableControl;
  /** Whether it lies beyond the farthest work point. */
  readonly isBeyond: boolean;
}

/**
 * The control points that show a wrong base, pole or datum on a day, and scale and tilt errors far out.
 *
 * Given: geodesic calculator; base, control and work points, degrees. Returned: see `ChosenControl`; null where there is
 * no control. Of equals the lower identifier. Reference: common practice, no published source.
 */
export function chooseControl(
  geodesic: Geodesic,
  base: PlanPlace,
  control: readonly TimetableControl[],
  work: readonly PlanPlace[],
): ChosenControl | null {
  const from = (place: PlanPlace): number =>
    geodesic.distanceM(base.latitudeDeg, base.longitudeDeg, place.latitudeDeg, place.longitudeDeg);
  const ordered = control
    .map((point) => ({ point, distanceM: from(point) }))
    .sort((a, b) => a.distanceM - b.distanceM || (a.point.id < b.point.id ? -1 : 1));
  const farthestM = work.reduce((most, point) => Math.max(most, from(point)), 0);
  const near = ordered[0];
  const last = ordered.at(-1);
  if (near === undefined || last === undefined) return null;
  const beyond = ordered.find(({ distanceM }) => distanceM >= farthestM);
  return { near: near.point, beyond: (beyond ?? last).point, isBeyond: beyond !== undefined };
}
