import type { GeodeticPoint } from '../../../records/points/point.js';
import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { geocentricToGeodetic, geodeticToGeocentric } from '../../ellipsoid/geocentric.js';
import type { MutableGeocentric, ShiftFunction } from './shift-definition.js';

/** Rounds; each brings the height closer by a factor of 10⁴ or more. */
const ROUNDS = 3;

/**
 * The inverse of a shift that keeps heights, by solving.
 *
 * Forward, a point at height h is shifted and its new latitude and longitude are taken with the old
 * height. Backwards the new height is therefore not known; it is found so that the point comes back
 * at height h. Taking h for it instead would miss by the change of height times the difference of
 * the two verticals: 0.1 mm for EPSG 1504, 0.9 mm for EPSG 1314, at every turn there and back.
 *
 * Given: the inverse shift; position with the kept height, degrees and metres; the two ellipsoids.
 * Returned: the position the forward shift leads here from, at the same height. Errors: none;
 * finite numbers expected. Reference: own derivation. Inverse: the forward shift with kept heights.
 */
export function invertKeptHeight(
  run: ShiftFunction,
  point: GeodeticPoint,
  fromEllipsoid: Ellipsoid,
  toEllipsoid: Ellipsoid,
): GeodeticPoint {
  const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = point;
  const out: MutableGeocentric = { xM: 0, yM: 0, zM: 0 };
  let heightM = ellipsoidalHeightM;
  let found: GeodeticPoint = point;
  for (let round = 0; round < ROUNDS; round += 1) {
    const from = geodeticToGeocentric({ latitudeDeg, longitudeDeg, ellipsoidalHeightM: heightM }, fromEllipsoid);
    run(from.xM, from.yM, from.zM, out);
    found = geocentricToGeodetic(out, toEllipsoid);
    heightM += ellipsoidalHeightM - found.ellipsoidalHeightM;
  }
  return { latitudeDeg: found.latitudeDeg, longitudeDeg: found.longitudeDeg, ellipsoidalHeightM };
}
