import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { halfTurn, parallelRadius } from './conformal-latitude.js';
import { createNumericFactors } from '../../grid/factors/numeric-factors.js';
import type { AnglePair, PlanePair, ProjectionEngine } from '../projection-engine.js';
import { createMeridianArc } from './meridian-arc.js';

/** Parameters of the equidistant cylindrical projection; angles in radians, lengths in metres. */
export interface EquidistantCylindricalParameters {
  readonly trueScaleLatitudeRad: number;
  readonly longitudeOfOriginRad: number;
  readonly falseEastingM: number;
  readonly falseNorthingM: number;
}

/**
 * Equidistant cylindrical of the ellipsoid (EPSG method 1028): the northing is the length of the
 * meridian, the easting that of the parallel of true scale.
 *
 * Given: the ellipsoid and the parameters. Returned: the projection.
 * Note: the length of the meridian is the northing of a transverse Mercator projection of scale 1 on
 * its central meridian. The projection library has the sphere's form alone, 25 km from this one.
 * Reference: IOGP-373-7-2, method 1028.
 */
export function createEquidistantCylindrical(
  ellipsoid: Ellipsoid,
  parameters: EquidistantCylindricalParameters,
): ProjectionEngine {
  const { longitudeOfOriginRad, falseEastingM, falseNorthingM } = parameters;
  const parallelM =
    ellipsoid.semiMajorAxisM * parallelRadius(parameters.trueScaleLatitudeRad, ellipsoid.eccentricitySquared);
  const meridian = createMeridianArc(ellipsoid, 0);
  const arc: PlanePair = { eastM: 0, northM: 0 };
  const forward = (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
    if (!meridian.forward(latitudeRad, 0, arc)) return false;
    out.eastM = falseEastingM + parallelM * halfTurn(longitudeRad - longitudeOfOriginRad);
    out.northM = falseNorthingM + arc.northM;
    return true;
  };
  const place: AnglePair = { latitudeRad: 0, longitudeRad: 0 };
  const inverse = (eastM: number, northM: number, out: AnglePair): boolean => {
    const deltaRad = (eastM - falseEastingM) / parallelM;
    if (!(Math.abs(deltaRad) <= Math.PI + 1e-9) || !meridian.inverse(0, northM - falseNorthingM, place)) return false;
    // Beyond the pole a transverse Mercator map goes down the other side; this one ends.
    if (Math.abs(place.longitudeRad) > 1) return false;
    out.latitudeRad = place.latitudeRad;
    out.longitudeRad = halfTurn(longitudeOfOriginRad + deltaRad);
    return true;
  };
  return { forward, inverse, forwardWithFactors: createNumericFactors(forward, ellipsoid) };
}
