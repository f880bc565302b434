import { clampedAsin } from '../numeric/clamped.js';
import { DEGREES_PER_RADIAN } from '../numeric/angle-units.js';
import type { Ellipsoid } from '../ellipsoid/ellipsoid.js';
import { geocentricInFrame } from '../ellipsoid/geocentric.js';
import { localFrameAt } from '../ellipsoid/local-frame.js';
import type { LocalFrame } from '../ellipsoid/local-frame.js';
import type { GeocentricPoint, GeodeticPoint } from '../../records/points/point.js';

/** A place from which the sky is looked at. */
export interface Viewpoint extends GeocentricPoint {
  readonly frame: LocalFrame;
}

/** The viewpoint at a position on an ellipsoid. */
export function viewpointAt(place: GeodeticPoint, ellipsoid: Ellipsoid): Viewpoint {
  const frame = localFrameAt(place.latitudeDeg, place.longitudeDeg);
  return { frame, ...geocentricInFrame(frame, place.ellipsoidalHeightM, ellipsoid) };
}

/**
 * The direction to a satellite as a unit vector east, north and up, up along the normal of the ellipsoid.
 *
 * Given: viewpoint; X, Y, Z of the satellite, metres, in `places` from `at` on. Returned: in `into` from `to` on. No refraction: it lifts by 0.1° at
 * elevation 5° and by less than 0.03° above 20°.
 */
export function directionTo(view: Viewpoint, places: Float64Array, at: number, into: Float64Array, to: number): void {
  const { sinLat, cosLat, sinLon, cosLon } = view.frame;
  const dx = places[at]! - view.xM;
  const dy = places[at + 1]! - view.yM;
  const dz = places[at + 2]! - view.zM;
  const range = Math.sqrt(dx * dx + dy * dy + dz * dz);
  const outward = cosLon * dx + sinLon * dy;
  into[to] = (cosLon * dy - sinLon * dx) / range;
  into[to + 1] = (cosLat * dz - sinLat * outward) / range;
  into[to + 2] = (cosLat * outward + sinLat * dz) / range;
}

/** Azimuth of a direction, degrees, 0 to below 360; 0 at the zenith. */
export function azimuthOf(east: number, north: number): number {
  const azimuth = Math.atan2(east, north) * DEGREES_PER_RADIAN;
  // A tiny negative angle turned once is 360 itself.
  return azimuth >= 0 ? azimuth : (azimuth + 360) % 360;
}

/** Elevation of a direction whose upward part is given, degrees. */
export function elevationOf(up: number): number {
  return clampedAsin(up) * DEGREES_PER_RADIAN;
}
