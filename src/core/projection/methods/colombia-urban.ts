import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { createNumericFactors } from '../../grid/factors/numeric-factors.js';
import type { AnglePair, PlanePair, ProjectionEngine } from '../projection-engine.js';
import { halfTurn } from './conformal-latitude.js';
import { refineInverse } from './refine-inverse.js';

/** Parameters of the Colombia urban projection; angles in radians, lengths in metres. */
export interface ColombiaUrbanParameters {
  readonly latitudeOfOriginRad: number;
  readonly longitudeOfOriginRad: number;
  /** Height of the plane of projection over the ellipsoid at the origin. */
  readonly heightOfOriginM: number;
  readonly falseEastingM: number;
  readonly falseNorthingM: number;
}

/** Latitude or longitude from the origin, radians, beyond which the two terms of the formulas say nothing: they are of a town. */
const WIDEST_RAD = 0.2;

/**
 * Colombia urban (EPSG method 1052): a plane at the height of a town, so that its scale at the origin is that of the ground.
 *
 * Given: the ellipsoid and the parameters. Returned: the projection. It keeps neither angles nor one scale at a point.
 * Note: the way back of the reference stops at two terms (millimetres at the edge of a town); here it is brought to agree with
 * the way there.
 * Reference: IOGP-373-7-2, method 1052.
 */
export function createColombiaUrban(ellipsoid: Ellipsoid, parameters: ColombiaUrbanParameters): ProjectionEngine {
  const { latitudeOfOriginRad, longitudeOfOriginRad, heightOfOriginM, falseEastingM, falseNorthingM } = parameters;
  const a = ellipsoid.semiMajorAxisM;
  const es = ellipsoid.eccentricitySquared;
  const transverse = (latitudeRad: number): number => a / Math.sqrt(1 - es * Math.sin(latitudeRad) ** 2);
  const meridional = (latitudeRad: number): number => (a * (1 - es)) / (1 - es * Math.sin(latitudeRad) ** 2) ** 1.5;
  const atOriginM = meridional(latitudeOfOriginRad);
  const raised = 1 + heightOfOriginM / transverse(latitudeOfOriginRad);
  const bend = Math.tan(latitudeOfOriginRad) / (2 * atOriginM * transverse(latitudeOfOriginRad));

  const forward = (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
    const north = latitudeRad - latitudeOfOriginRad;
    const east = halfTurn(longitudeRad - longitudeOfOriginRad);
    if (!(Math.abs(north) < WIDEST_RAD && Math.abs(east) < WIDEST_RAD)) return false;
    const alongParallelM = transverse(latitudeRad) * Math.cos(latitudeRad) * east;
    const raisedBetween = 1 + heightOfOriginM / meridional((latitudeRad + latitudeOfOriginRad) / 2);
    out.eastM = falseEastingM + raised * alongParallelM;
    out.northM = falseNorthingM + raisedBetween * atOriginM * (north + bend * alongParallelM * alongParallelM);
    return true;
  };

  const inverse = (eastM: number, northM: number, out: AnglePair): boolean => {
    const eastwardM = (eastM - falseEastingM) / (1 + heightOfOriginM / a);
    const north = (northM - falseNorthingM) / (atOriginM * (1 + heightOfOriginM / (a * (1 - es))));
    const latitudeRad = latitudeOfOriginRad + north - bend * eastwardM * eastwardM;
    const place = {
      latitudeRad,
      longitudeRad: longitudeOfOriginRad + eastwardM / (transverse(latitudeRad) * Math.cos(latitudeRad)),
    };
    if (!(Math.abs(latitudeRad - latitudeOfOriginRad) < WIDEST_RAD)) return false;
    refineInverse(forward, eastM, northM, place);
    out.latitudeRad = place.latitudeRad;
    out.longitudeRad = halfTurn(place.longitudeRad);
    return true;
  };
  return { forward, inverse, forwardWithFactors: createNumericFactors(forward, ellipsoid) };
}
