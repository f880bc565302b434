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

/** Parameters of a Lambert conformal conic projection; angles in radians, lengths in metres. */
export interface LambertConicParameters {
  readonly latitudeOfOriginRad: number;
  readonly longitudeOfOriginRad: number;
  readonly firstParallelRad: number;
  /** Null with one standard parallel. */
  readonly secondParallelRad: number | null;
  readonly scaleFactor: number;
  readonly falseEastingM: number;
  readonly falseNorthingM: number;
  /** Taken from the angle at the apex before it becomes a pair; 0 but for the Belgian form. */
  readonly turnRad: number;
}

/** A cone flatter than this is a cylinder, which is another projection. */
const LEAST_CONE = 1e-9;

/**
 * Lambert conformal conic (EPSG methods 9801, 9802, 1051, and 9803 with its turn), in closed form.
 *
 * Given: the ellipsoid (a sphere too) and the parameters. Returned: the projection, or null where
 * the parameters make no cone (parallels as far north as south, a parallel at a pole, an origin at
 * the pole that the cone does not have). The pole at the apex is a point, to the last bit; the other
 * pole is infinitely far and refused. Scale at the apex is none: factors are refused there.
 * Notes: 1. The projection library moves the pole by 2e-10 radian: 11 mm with steep cones and 2e8 m
 * with parallels of 0.5° and 2°. 2. Distances from the origin are differences of exponentials, taken
 * together, so that a flat cone loses no digits. 3. Factors are closed: k = r n / (a m).
 * Reference: IOGP-373-7-2, methods 9801, 9802, 9803, 1051; SNYDER-1395, equations 15-1 to 15-11.
 */
export function createLambertConic(ellipsoid: Ellipsoid, parameters: LambertConicParameters): ProjectionEngine | null {
  const { longitudeOfOriginRad, falseEastingM, falseNorthingM, turnRad } = parameters;
  const es = ellipsoid.eccentricitySquared;
  const e = eccentricity(ellipsoid);
  const first = parameters.firstParallelRad;
  const second = parameters.secondParallelRad ?? first;
  if (isPole(first) || isPole(second)) return null;
  const cone = coneConstant(first, second, e);
  if (!(Math.abs(cone) > LEAST_CONE)) return null;
  const apexSign = Math.sign(cone);
  const isometricAtFirst = isometricLatitude(first, e);
  const radiusAtFirstM = (ellipsoid.semiMajorAxisM * parameters.scaleFactor * parallelRadius(first, es)) / cone;
  const atPole = isPole(parameters.latitudeOfOriginRad);
  if (atPole && Math.sign(parameters.latitudeOfOriginRad) !== apexSign) return null;
  // The origin that differences are taken from: at the apex itself, the first parallel.
  const isometricAtOrigin = atPole ? isometricAtFirst : isometricLatitude(parameters.latitudeOfOriginRad, e);
  const radiusM = radiusAtFirstM * Math.exp(cone * (isometricAtFirst - isometricAtOrigin));
  const originNorthM = falseNorthingM + (atPole ? -radiusM : 0);

  const forward = (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
    const pole = isPole(latitudeRad);
    if (pole && Math.sign(latitudeRad) !== apexSign) return false;
    const shrunk = pole ? -1 : Math.expm1(-cone * (isometricLatitude(latitudeRad, e) - isometricAtOrigin));
    const angle = cone * halfTurn(longitudeRad - longitudeOfOriginRad) - turnRad;
    const half = Math.sin(angle / 2);
    const fromApexM = radiusM * (1 + shrunk);
    const eastM = falseEastingM + fromApexM * Math.sin(angle);
    const northM = originNorthM - radiusM * shrunk + 2 * fromApexM * half * half;
    if (!Number.isFinite(eastM) || !Number.isFinite(northM)) return false;
    out.eastM = eastM;
    out.northM = northM;
    return true;
  };

  const inverse = (eastM: number, northM: number, out: AnglePair): boolean => {
    const east = (eastM - falseEastingM) / radiusM;
    const north = (northM - originNorthM) / radiusM;
    const isometric =
      isometricAtOrigin - Math.log1p(Math.max(-1, east * east + north * north - 2 * north)) / (2 * cone);
    const angle = Math.atan2(east, 1 - north) + turnRad;
    const deltaRad = angle / cone;
    if (!(Math.abs(deltaRad) <= Math.PI + 1e-9)) return false;
    out.latitudeRad = latitudeOfIsometricRad(isometric, e);
    out.longitudeRad = halfTurn(longitudeOfOriginRad + deltaRad);
    return true;
  };

  const forwardWithFactors = (latitudeRad: number, longitudeRad: number, out: PlanePairAndFactors): boolean => {
    if (isPole(latitudeRad) || !forward(latitudeRad, longitudeRad, out)) return false;
    const shrunk = Math.expm1(-cone * (isometricLatitude(latitudeRad, e) - isometricAtOrigin));
    const scale = (cone * radiusM * (1 + shrunk)) / (ellipsoid.semiMajorAxisM * parallelRadius(latitudeRad, es));
    out.convergenceRad = cone * halfTurn(longitudeRad - longitudeOfOriginRad) - turnRad;
    out.meridianScaleFactor = scale;
    out.parallelScaleFactor = scale;
    return true;
  };
  return { forward, inverse, forwardWithFactors };
}

/** The constant of the cone: sine of the one parallel, or the slope between two, without cancellation. */
export function coneConstant(firstRad: number, secondRad: number, e: number): number {
  const es = e * e;
  const s1 = Math.sin(firstRad);
  const s2 = Math.sin(secondRad);
  if (Math.abs(secondRad - firstRad) < 1e-12) return s1;
  const step = 2 * Math.cos((firstRad + secondRad) / 2) * Math.sin((secondRad - firstRad) / 2);
  // ln m₁ − ln m₂, from m² = cos² / (1 − e² sin²).
  const c2 = Math.cos(secondRad);
  const ofParallels = Math.log1p(((1 - es) * step * (s1 + s2)) / ((1 - es * s1 * s1) * c2 * c2)) / 2;
  const ofLatitudes = Math.atanh(step / (1 - s1 * s2)) - e * Math.atanh((e * step) / (1 - es * s1 * s2));
  return ofParallels / ofLatitudes;
}
