import { GRS80 } from '../../ellipsoid/ellipsoid.js';
import { geocentricToGeodetic } from '../../ellipsoid/geocentric.js';
import { localFrameAt, localToGeocentric } from '../../ellipsoid/local-frame.js';
import { createGeoidHeight } from '../../geoid/geoid-height.js';
import type { GridLevel } from '../../geoid/geoid-grid.js';
import { success } from '../../../records/outcome.js';
import type { Outcome } from '../../../records/outcome.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { moveByVelocity } from './plate-motion.js';
import type { GeocentricVelocity } from './plate-motion.js';

/** Velocities over latitude and longitude. */
export interface VelocityGrid {
  readonly name: string;
  readonly sha256: string;
  /** Code of the geographic system it is given in; null where the file does not say. */
  readonly frame: string | null;
  /** Velocity of a place, metres per year along X, Y, Z; null outside the grid, and at a node without one. */
  readonly velocityAt: (point: GeocentricPoint) => GeocentricVelocity | null;
}

/** What a file of velocities holds: levels of its three components, metres per year. */
export interface VelocityLevels {
  readonly east: readonly GridLevel[];
  readonly north: readonly GridLevel[];
  readonly up: readonly GridLevel[];
}

/**
 * A velocity grid, ready for points: bilinear in latitude and longitude, then along X, Y, Z by the axes of the place.
 * Given: name and digest of its file; frame; levels. Problems: those of `createGeoidHeight`, which interpolates.
 * Reference: PROJ-DOC, deformation model (kinematic); GTG, TYPE VELOCITY.
 */
export function createVelocityGrid(
  { name, sha256, frame }: Pick<VelocityGrid, 'name' | 'sha256' | 'frame'>,
  { east, north, up }: VelocityLevels,
): Outcome<VelocityGrid> {
  const made = [east, north, up].map((levels) =>
    createGeoidHeight({ name, sha256, frame, precisionNote: null, levels }, 'bilinear'),
  );
  const [e, n, u] = made;
  if (e?.ok !== true) return e as Outcome<never>;
  if (n?.ok !== true) return n as Outcome<never>;
  if (u?.ok !== true) return u as Outcome<never>;
  return success({
    name,
    sha256,
    frame,
    velocityAt(point) {
      const { latitudeDeg, longitudeDeg } = geocentricToGeodetic(point, GRS80);
      const [eastM, northM, upM] = [e, n, u].map(({ value }) => value.heightAt(latitudeDeg, longitudeDeg));
      if (eastM == null || northM == null || upM == null) return null;
      const { xM, yM, zM } = localToGeocentric(localFrameAt(latitudeDeg, longitudeDeg), { eastM, northM, upM });
      return { xMPerYear: xM, yMPerYear: yM, zMPerYear: zM };
    },
  });
}

/** A point moved for some years by the velocity of the place it starts from; null outside the grid. Inverse: `movedFromByGrid`. */
export function movedByGrid(point: GeocentricPoint, grid: VelocityGrid, years: number): GeocentricPoint | null {
  const velocity = grid.velocityAt(point);
  return velocity === null ? null : moveByVelocity(point, velocity, 0, years);
}

/** A millimetre a year changes by less than a thousandth over what a point moves, so that each turn gains three digits. */
const MOST_TURNS = 20;
const SETTLED_M = 1e-10;

/** The place that `movedByGrid` leads here from, by turns that read the grid at the other end; null outside the grid. */
export function movedFromByGrid(point: GeocentricPoint, grid: VelocityGrid, years: number): GeocentricPoint | null {
  let start = point;
  for (let turn = 0; turn < MOST_TURNS; turn += 1) {
    const velocity = grid.velocityAt(start);
    if (velocity === null) return null;
    const next = moveByVelocity(point, velocity, years, 0);
    const moved = Math.hypot(next.xM - start.xM, next.yM - start.yM, next.zM - start.zM);
    start = next;
    if (moved < SETTLED_M) return start;
  }
  return null;
}
