import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import type { PlanePair, PlanePairAndFactors } from '../../projection/projection-engine.js';

/** Step of the differences, radians: about 3 km on the ground. */
const STEP_RAD = 5e-4;
/** Nearer a pole than this the differences would not hold nine decimals. */
const NEAREST_TO_POLE_RAD = 1e-5;

/**
 * Scale and convergence of any projection, by differences of its forward formula.
 *
 * Given: the forward formula; the ellipsoid of the ground. Returned: a function that gives the
 * projected pair and the factors, and false where a point or a point beside it cannot be projected.
 * Notes: 1. Central differences over one and two steps, joined so that the error of the second
 * order cancels (Richardson); eight evaluations. 2. Against the closed transverse Mercator
 * the scale agrees to 10^-12 and the convergence to 10^-11 degree; docs/methods/grid-factors.md. 3. Within 60 m
 * of a pole the parallel is too small, and the point is refused.
 * Reference: SNYDER-1395, section 4, equations 4-11 and 4-12 for the scales of the parallel and meridian.
 */
export function createNumericFactors(
  forward: (latitudeRad: number, longitudeRad: number, out: PlanePair) => boolean,
  ground: Ellipsoid,
): (latitudeRad: number, longitudeRad: number, out: PlanePairAndFactors) => boolean {
  const a: PlanePair = { eastM: 0, northM: 0 };
  const b: PlanePair = { eastM: 0, northM: 0 };
  const c: PlanePair = { eastM: 0, northM: 0 };
  const d: PlanePair = { eastM: 0, northM: 0 };
  const here: PlanePair = { eastM: 0, northM: 0 };
  const es = ground.eccentricitySquared;
  return (latitudeRad, longitudeRad, out) => {
    const toPole = Math.PI / 2 - Math.abs(latitudeRad);
    if (toPole < NEAREST_TO_POLE_RAD) return false;
    if (!forward(latitudeRad, longitudeRad, here)) return false;
    const sin = Math.sin(latitudeRad);
    const cos = Math.cos(latitudeRad);
    const along = Math.min(STEP_RAD, toPole / 4);
    if (
      !forward(latitudeRad + along, longitudeRad, a) ||
      !forward(latitudeRad - along, longitudeRad, b) ||
      !forward(latitudeRad + 2 * along, longitudeRad, c) ||
      !forward(latitudeRad - 2 * along, longitudeRad, d)
    ) {
      return false;
    }
    const eastByLatitude = (8 * (a.eastM - b.eastM) - (c.eastM - d.eastM)) / (12 * along);
    const northByLatitude = (8 * (a.northM - b.northM) - (c.northM - d.northM)) / (12 * along);
    const across = Math.min(STEP_RAD / Math.sqrt(cos), 4e-3);
    if (
      !forward(latitudeRad, longitudeRad + across, a) ||
      !forward(latitudeRad, longitudeRad - across, b) ||
      !forward(latitudeRad, longitudeRad + 2 * across, c) ||
      !forward(latitudeRad, longitudeRad - 2 * across, d)
    ) {
      return false;
    }
    const eastByLongitude = (8 * (a.eastM - b.eastM) - (c.eastM - d.eastM)) / (12 * across);
    const northByLongitude = (8 * (a.northM - b.northM) - (c.northM - d.northM)) / (12 * across);
    const w = 1 - es * sin * sin;
    const primeVerticalM = ground.semiMajorAxisM / Math.sqrt(w);
    const meridianM = (primeVerticalM * (1 - es)) / w;
    out.eastM = here.eastM;
    out.northM = here.northM;
    out.meridianScaleFactor =
      Math.sqrt(eastByLatitude * eastByLatitude + northByLatitude * northByLatitude) / meridianM;
    out.parallelScaleFactor =
      Math.sqrt(eastByLongitude * eastByLongitude + northByLongitude * northByLongitude) / (primeVerticalM * cos);
    // Grid bearing of the meridian, turned round: positive where grid north is east of true north.
    out.convergenceRad = Math.atan2(-eastByLatitude, northByLatitude);
    return true;
  };
}
