import { INTERNATIONAL_FOOT_M } from '../numeric/length-units.js';
import { errorProblem } from '../../records/problem.js';
import type { Problem } from '../../records/problem.js';
import type { GeocentricPoint, LocalVector } from '../../records/points/point.js';

/** Distances from the middle of the Earth, metres: a good thousand kilometres below and above its surface. */
const NEAREST_M = 5e6;
const FARTHEST_M = 8e6;
/** Where people survey. */
const SURFACE_NEAREST_M = 6.3e6;
const SURFACE_FARTHEST_M = 6.5e6;

/**
 * Whether a geocentric position is no place on or near the Earth, with the unit that would make it one.
 *
 * Given: X, Y, Z, metres; the topocentric coordinates they were made from, or null. Returned:
 * coordinate-implausible, or null for a position between 5 000 km and 8 000 km from the middle of the
 * Earth. A position that is not a number is implausible too.
 */
export function implausibleGeocentric({ xM, yM, zM }: GeocentricPoint, local: LocalVector | null): Problem | null {
  const square = xM * xM + yM * yM + zM * zM;
  if (square >= NEAREST_M * NEAREST_M && square <= FARTHEST_M * FARTHEST_M) return null;
  if (local !== null) {
    return errorProblem('coordinate-implausible', {
      message: `east ${String(local.eastM)}, north ${String(local.northM)}, up ${String(local.upM)} about the origin is no place on or near the Earth`,
      hint: 'topocentric coordinates are in metres about the origin they were made for',
    });
  }
  const radiusM = Math.sqrt(square);
  const isSurface = (factor: number): boolean =>
    radiusM * factor > SURFACE_NEAREST_M && radiusM * factor < SURFACE_FARTHEST_M;
  const unit = isSurface(INTERNATIONAL_FOOT_M) ? 'feet' : isSurface(1000) ? 'kilometres' : null;
  return errorProblem('coordinate-implausible', {
    message: `X ${String(xM)}, Y ${String(yM)}, Z ${String(zM)} is no place on or near the Earth${unit === null ? '' : `, and is one if the numbers are ${unit}`}`,
    hint: 'geocentric coordinates are in metres',
  });
}
