import type { GeocentricPoint } from '../../../records/points/point.js';
import { moveByVelocity, movePoint } from './plate-motion.js';
import type { GeocentricVelocity } from './plate-motion.js';
import type { PlatePole } from './plate-pole.js';
import { movedByGrid, movedFromByGrid } from './velocity-grid.js';
import type { VelocityGrid } from './velocity-grid.js';

/** What carries points in time. */
export type MotionBy =
  | { readonly kind: 'plate'; readonly pole: PlatePole }
  | { readonly kind: 'velocity'; readonly velocity: GeocentricVelocity }
  | { readonly kind: 'grid'; readonly grid: VelocityGrid };

/** A motion of points in time, within one frame. */
export interface Motion {
  readonly fromYear: number;
  readonly toYear: number;
  readonly by: MotionBy;
}

/** A point carried from the first epoch of a motion to the second; null outside a grid of velocities. Inverse: `movedBack`. */
export function movedPoint(point: GeocentricPoint, { fromYear, toYear, by }: Motion): GeocentricPoint | null {
  if (by.kind === 'grid') return movedByGrid(point, by.grid, toYear - fromYear);
  return by.kind === 'plate'
    ? movePoint(point, by.pole, fromYear, toYear)
    : moveByVelocity(point, by.velocity, fromYear, toYear);
}

/** A point carried back from the second epoch of a motion to the first; null outside a grid of velocities. */
export function movedBack(point: GeocentricPoint, motion: Motion): GeocentricPoint | null {
  const { fromYear, toYear, by } = motion;
  return by.kind === 'grid'
    ? movedFromByGrid(point, by.grid, toYear - fromYear)
    : movedPoint(point, { fromYear: toYear, toYear: fromYear, by });
}

/** What carries the points, in words. */
export function motionName(by: MotionBy): string {
  if (by.kind === 'grid') return `velocity grid ${by.grid.name}`;
  return by.kind === 'plate' ? `${by.pole.model}, ${by.pole.name} plate` : 'velocity given';
}
