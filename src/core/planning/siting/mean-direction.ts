import { DEGREES_PER_RADIAN, RADIANS_PER_DEGREE } from '../../numeric/angle-units.js';
import type { PlanPlace } from '../plan-point.js';

/**
 * A place in the middle of several: the direction of the sum of their unit vectors. It does not care
 * about the 180th meridian or the poles. It is a starting point, not an optimum.
 *
 * Given: one place or more, degrees. Returned: a place, degrees, longitude −180…180. Where the sum
 * vanishes (places spread evenly over the globe) the first place comes back.
 */
export function meanDirection(places: readonly PlanPlace[]): PlanPlace {
  let x = 0;
  let y = 0;
  let z = 0;
  for (const place of places) {
    const phi = place.latitudeDeg * RADIANS_PER_DEGREE;
    const lambda = place.longitudeDeg * RADIANS_PER_DEGREE;
    x += Math.cos(phi) * Math.cos(lambda);
    y += Math.cos(phi) * Math.sin(lambda);
    z += Math.sin(phi);
  }
  if (Math.hypot(x, y, z) < 1e-9 * places.length) return places[0] as PlanPlace;
  return {
    latitudeDeg: Math.atan2(z, Math.hypot(x, y)) * DEGREES_PER_RADIAN,
    longitudeDeg: Math.atan2(y, x) * DEGREES_PER_RADIAN,
  };
}
