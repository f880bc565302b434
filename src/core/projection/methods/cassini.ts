import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { degreesToRadians } from '../../numeric/angle-units.js';
import { halfTurn } from './conformal-latitude.js';
import { createNumericFactors } from '../../grid/factors/numeric-factors.js';
import type { AnglePair, PlanePair, ProjectionEngine } from '../projection-engine.js';
import type { ProjParameters } from '../definition/projection-parameters.js';
import { createMeridianArc } from './meridian-arc.js';

/** Distance from the central meridian, in radii, beyond which the series is not used. */
const WIDEST = 0.2;
const MOST_STEPS = 30;

/**
 * Cassini-Soldner (EPSG method 9806), forward by its series and inverse by steps of the forward.
 *
 * Given: checked parameters; the ellipsoid of the ground. Returned: the projection.
 * Notes: 1. It is computed here because the projection library (2.22.0) has the fifth-order term of
 * the easting with the wrong sign: 0.14 mm at 1° from the central meridian, 0.2 m at 4°.
 * 2. Distance along the meridian is the northing of a transverse Mercator projection of scale 1 on
 * its central meridian. 3. It keeps neither angles nor one scale at a point. 4. The hyperbolic form (EPSG method 9833) takes
 * X³ / 6ρν off the northing.
 * Reference: SNYDER-1395, equations 13-7 to 13-10; IOGP-373-7-2, methods 9806 and 9833.
 */
export function createCassini(parameters: ProjParameters, ground: Ellipsoid): ProjectionEngine {
  const { ellipsoid, numbers, flags } = parameters;
  const isHyperbolic = flags.includes('hyperbolic');
  const es = ellipsoid.eccentricitySquared;
  const centralMeridianRad = degreesToRadians(numbers.lon_0 as number);
  // PROJ: a parameter that is not given is 0.
  const falseEastingM = numbers.x_0 ?? 0;
  // PROJ: a parameter that is not given is 0.
  const falseNorthingM = numbers.y_0 ?? 0;
  const meridian = createMeridianArc(ellipsoid, degreesToRadians(numbers.lat_0 as number));
  const arc: PlanePair = { eastM: 0, northM: 0 };

  const forward = (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
    const sin = Math.sin(latitudeRad);
    const cos = Math.cos(latitudeRad);
    const away = halfTurn(longitudeRad - centralMeridianRad) * cos;
    if (!(Math.abs(away) < WIDEST) || !meridian.forward(latitudeRad, 0, arc)) return false;
    const tan = sin / cos;
    const t = tan * tan;
    const c = (es * cos * cos) / (1 - es);
    const squared = away * away;
    const nu = ellipsoid.semiMajorAxisM / Math.sqrt(1 - es * sin * sin);
    out.eastM = falseEastingM + nu * away * (1 - squared * t * (1 / 6 + ((8 - t + 8 * c) * squared) / 120));
    const northM = arc.northM + nu * tan * squared * (0.5 + ((5 - t + 6 * c) * squared) / 24);
    const rho = (nu * (1 - es)) / (1 - es * sin * sin);
    out.northM = falseNorthingM + northM - (isHyperbolic ? northM ** 3 / (6 * rho * nu) : 0);
    return true;
  };

  const trial: PlanePair = { eastM: 0, northM: 0 };
  const start: AnglePair = { latitudeRad: 0, longitudeRad: 0 };
  const inverse = (eastM: number, northM: number, out: AnglePair): boolean => {
    if (!meridian.inverse(0, northM - falseNorthingM, start)) return false;
    let latitudeRad = start.latitudeRad;
    let longitudeRad = centralMeridianRad + (eastM - falseEastingM) / ellipsoid.semiMajorAxisM / Math.cos(latitudeRad);
    for (let i = 0; i < MOST_STEPS; i += 1) {
      if (!(Math.abs(latitudeRad) < Math.PI / 2) || !forward(latitudeRad, longitudeRad, trial)) return false;
      const stepNorth = (northM - trial.northM) / ellipsoid.semiMajorAxisM;
      const stepEast = (eastM - trial.eastM) / ellipsoid.semiMajorAxisM;
      latitudeRad += stepNorth;
      longitudeRad += stepEast / Math.cos(latitudeRad);
      if (Math.abs(stepNorth) < 1e-14 && Math.abs(stepEast) < 1e-14) {
        out.latitudeRad = latitudeRad;
        out.longitudeRad = longitudeRad;
        return true;
      }
    }
    return false;
  };
  return { forward, inverse, forwardWithFactors: createNumericFactors(forward, ground) };
}
