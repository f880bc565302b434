import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { createNumericFactors } from '../../grid/factors/numeric-factors.js';
import type { AnglePair, PlanePair, ProjectionEngine } from '../projection-engine.js';
import { halfTurn, isPole } from './conformal-latitude.js';
import { createConformalSphere } from './conformal-sphere.js';
import { modifiedKrovakM } from './modified-krovak-polynomial.js';

/** Parameters of Krovak's modified projection; angles in radians, lengths in metres. The false origin counts west and south. */
export interface ModifiedKrovakParameters {
  readonly latitudeOfCentreRad: number;
  readonly longitudeOfOriginRad: number;
  /** Co-latitude of the axis of the cone on the sphere. */
  readonly axisColatitudeRad: number;
  readonly scaleFactor: number;
  readonly falseWestingM: number;
  readonly falseSouthingM: number;
}

/** Latitude on the sphere, about the axis of the cone, of the parallel of contact: 78°30′. IOGP-373-7-2, method 9819. */
const PSEUDO_PARALLEL_RAD = (78.5 / 180) * Math.PI;
/** The polynomial moves places by less than half a metre, and half a metre by less than 1e-6 of that. */
const MODIFIED_STEPS = 4;

/**
 * Krovak's oblique conformal cone less a polynomial (EPSG methods 1042 and 1043), the cone in closed form.
 *
 * Given: the ellipsoid and the parameters. Returned: the projection, easting and northing (westing and southing with the
 * signs turned).
 * Notes: 1. The way back is solved for and closes to a nanometre; the one
 * step of the reference leaves up to 0.1 µm. 2. Three terms of it keep angles and the fourth does not: scale differs between
 * directions by less than 1e-6.
 * Reference: IOGP-373-7-2, methods 9819, 1042, 1043.
 */
export function createModifiedKrovak(
  ellipsoid: Ellipsoid,
  parameters: ModifiedKrovakParameters,
): ProjectionEngine | null {
  const { latitudeOfCentreRad, longitudeOfOriginRad, axisColatitudeRad, falseWestingM, falseSouthingM } = parameters;
  if (isPole(latitudeOfCentreRad)) return null;
  const sphere = createConformalSphere(ellipsoid, latitudeOfCentreRad);
  const [sinAxis, cosAxis] = [Math.sin(axisColatitudeRad), Math.cos(axisColatitudeRad)];
  const cone = Math.sin(PSEUDO_PARALLEL_RAD);
  const contact = Math.atanh(cone);
  const radiusM = (parameters.scaleFactor * sphere.radiusM) / Math.tan(PSEUDO_PARALLEL_RAD);

  const forward = (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
    if (isPole(latitudeRad)) return false;
    const isometric = sphere.isometric(latitudeRad);
    const west = sphere.ratio * halfTurn(longitudeOfOriginRad - longitudeRad);
    const [sin, cos] = [Math.tanh(isometric), 1 / Math.cosh(isometric)];
    // About the axis of the cone: sine of the latitude, and its cosine along and across the meridian of origin.
    const up = cosAxis * sin + sinAxis * cos * Math.cos(west);
    const along = cosAxis * cos * Math.cos(west) - sinAxis * sin;
    const across = cos * Math.sin(west);
    const fromAxisM = radiusM * Math.exp(cone * (contact - Math.asinh(up / Math.hypot(along, across))));
    const angle = cone * Math.atan2(across, along);
    const southM = fromAxisM * Math.cos(angle);
    const westM = fromAxisM * Math.sin(angle);
    if (!Number.isFinite(southM) || !Number.isFinite(westM)) return false;
    const [offSouthM, offWestM] = modifiedKrovakM(southM, westM);
    out.eastM = offWestM - westM - falseWestingM;
    out.northM = offSouthM - southM - falseSouthingM;
    return true;
  };

  const inverse = (eastM: number, northM: number, out: AnglePair): boolean => {
    const givenSouthM = -northM - falseSouthingM;
    const givenWestM = -eastM - falseWestingM;
    let southM = givenSouthM;
    let westM = givenWestM;
    for (let step = 0; step < MODIFIED_STEPS; step += 1) {
      const [offSouthM, offWestM] = modifiedKrovakM(southM, westM);
      southM = givenSouthM + offSouthM;
      westM = givenWestM + offWestM;
    }
    const fromAxisM = Math.hypot(southM, westM);
    const turned = Math.atan2(westM, southM) / cone;
    if (!(fromAxisM > 0 && Math.abs(turned) <= Math.PI)) return false;
    const aboutAxis = contact - Math.log(fromAxisM / radiusM) / cone;
    const [up, flat] = [Math.tanh(aboutAxis), 1 / Math.cosh(aboutAxis)];
    const along = flat * Math.cos(turned);
    const across = flat * Math.sin(turned);
    const forwardOf = sinAxis * up + cosAxis * along;
    const sin = cosAxis * up - sinAxis * along;
    const latitudeRad = sphere.latitudeRad(Math.asinh(sin / Math.hypot(forwardOf, across)));
    if (!Number.isFinite(latitudeRad)) return false;
    out.latitudeRad = latitudeRad;
    out.longitudeRad = halfTurn(longitudeOfOriginRad - Math.atan2(across, forwardOf) / sphere.ratio);
    return true;
  };
  return { forward, inverse, forwardWithFactors: createNumericFactors(forward, ellipsoid) };
}
