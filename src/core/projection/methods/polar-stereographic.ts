import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import {
  eccentricity,
  halfTurn,
  isometricLatitude,
  isPole,
  latitudeOfIsometricRad,
  parallelRadius,
} from './conformal-latitude.js';
import type { AnglePair, PlanePair, PlanePairAndFactors, ProjectionEngine } from '../projection-engine.js';

/** Parameters of a polar stereographic projection; angles in radians, lengths in metres. */
export interface PolarStereographicParameters {
  /** 1 about the north pole, −1 about the south pole. */
  readonly pole: 1 | -1;
  readonly longitudeOfOriginRad: number;
  /** Null when the scale at the pole is given; else the parallel of true scale, on the side of the pole. */
  readonly trueScaleLatitudeRad: number | null;
  readonly scaleFactor: number;
  readonly falseEastingM: number;
  readonly falseNorthingM: number;
}

/** Beyond this latitude on the other side nothing is projected: the map runs to infinity there. */
const FARTHEST_RAD = (-89 / 180) * Math.PI;

/**
 * Polar stereographic (EPSG methods 9810 and 9829), in closed form, to the pole itself.
 *
 * Given: the ellipsoid (a sphere too) and the parameters. Returned: the projection. At the pole the
 * scale is that of the pole and the longitude given decides the convergence; back from it the
 * longitude is that of origin.
 * Note: it is ours, because differences about a pole give no factors within 60 m of it.
 * Reference: IOGP-373-7-2, methods 9810, 9829; SNYDER-1395, equations 21-33 to 21-41.
 */
export function createPolarStereographic(
  ellipsoid: Ellipsoid,
  parameters: PolarStereographicParameters,
): ProjectionEngine {
  const { pole, longitudeOfOriginRad, trueScaleLatitudeRad, falseEastingM, falseNorthingM } = parameters;
  const a = ellipsoid.semiMajorAxisM;
  const es = ellipsoid.eccentricitySquared;
  const e = eccentricity(ellipsoid);
  // Distance from the pole is radiusM exp(−ψ), with the isometric latitude ψ towards the pole.
  const atPoleM = (2 * a) / Math.sqrt((1 + e) ** (1 + e) * (1 - e) ** (1 - e));
  const radiusM =
    trueScaleLatitudeRad === null || isPole(trueScaleLatitudeRad)
      ? atPoleM * parameters.scaleFactor
      : a * parallelRadius(trueScaleLatitudeRad, es) * Math.exp(isometricLatitude(pole * trueScaleLatitudeRad, e));

  const forward = (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
    const towards = pole * latitudeRad;
    if (!(towards >= FARTHEST_RAD)) return false;
    const fromPoleM = isPole(towards) ? 0 : radiusM * Math.exp(-isometricLatitude(towards, e));
    const angle = halfTurn(longitudeRad - longitudeOfOriginRad);
    out.eastM = falseEastingM + fromPoleM * Math.sin(angle);
    out.northM = falseNorthingM - pole * fromPoleM * Math.cos(angle);
    return true;
  };

  const inverse = (eastM: number, northM: number, out: AnglePair): boolean => {
    const east = eastM - falseEastingM;
    const north = northM - falseNorthingM;
    const fromPoleM = Math.hypot(east, north);
    const towards = fromPoleM === 0 ? Math.PI / 2 : latitudeOfIsometricRad(Math.log(radiusM / fromPoleM), e);
    if (!(towards >= FARTHEST_RAD)) return false;
    out.latitudeRad = pole * towards;
    out.longitudeRad =
      fromPoleM === 0 ? longitudeOfOriginRad : halfTurn(longitudeOfOriginRad + Math.atan2(east, -pole * north));
    return true;
  };

  const forwardWithFactors = (latitudeRad: number, longitudeRad: number, out: PlanePairAndFactors): boolean => {
    if (!forward(latitudeRad, longitudeRad, out)) return false;
    const towards = pole * latitudeRad;
    const scale = isPole(towards)
      ? radiusM / atPoleM
      : (radiusM * Math.exp(-isometricLatitude(towards, e))) / (a * parallelRadius(towards, es));
    out.convergenceRad = pole * halfTurn(longitudeRad - longitudeOfOriginRad);
    out.meridianScaleFactor = scale;
    out.parallelScaleFactor = scale;
    return true;
  };
  return { forward, inverse, forwardWithFactors };
}
