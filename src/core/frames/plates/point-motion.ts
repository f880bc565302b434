import type { GeocentricPoint } from '../../../records/points/point.js';
import { moveByVelocity, movePoint } from './plate-motion.js';
import type { GeocentricVelocity } from './plate-motion.js';
import type { PlatePole } from './plate-pole.js';

/** What carries points in time. */
export type MotionBy =
  | { readonly kind: 'plate'; readonly pole: PlatePole }
  | { readonly kind: 'velocity'; readonly velocity: GeocentricVelocity };

/** A motion of points in time, within one frame. */
export interface Motion {
  readonly fromYear: number;
  readonly toYear: number;
  readonly by: MotionBy;
}

/** A point carried from one epoch to another, decimal years. Inverse: the years exchanged. */
export function movedPoint(point: GeocentricPoint, by: MotionBy, fromYear: number, toYear: number): GeocentricPoint {
  return by.kind === 'plate'
    ? movePoint(point, by.pole, fromYear, toYear)
    : moveByVelocity(point, by.velocity, fromYear, toYear);
}

/** What carries the points, in words. */
export function motionName(by: MotionBy): string {
  return by.kind === 'plate' ? `${by.pole.model}, ${by.pole.name} plate` : 'velocity given';
}
