import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { geodeticTangent, halfTurn } from './conformal-latitude.js';
import { forwardCoefficients, inverseCoefficients, rectifyingRadiusM } from './krueger-coefficients.js';
import type { AnglePair, PlanePair, PlanePairAndFactors, ProjectionEngine } from '../projection-engine.js';

/** Parameters of a transverse Mercator projection; angles in radians, lengths in metres. */
export interface TransverseMercatorParameters {
  readonly latitudeOfOriginRad: number;
  readonly centralMeridianRad: number;
  readonly scaleFactor: number;
  readonly falseEastingM: number;
  readonly falseNorthingM: number;
}

/** Complex η' beyond which the sixth-order series is not used: 60° of arc from the central meridian. */
const ETA_LIMIT = Math.atanh(Math.sin(Math.PI / 3));
/** Beyond the pole as seen from the central meridian only points near the pole are taken. */
const POLAR_LATITUDE_RAD = (80 / 180) * Math.PI;

/**
 * Transverse Mercator (EPSG method 9807, and 9808 before its axes are turned) by Krüger's series in
 * the third flattening, to sixth order.
 *
 * Given: the ellipsoid (a sphere too) and the parameters. Returned: the projection. Points more
 * than 60° of arc from the central meridian are refused.
 * Notes: 1. Grids of this kind are computed here and not by the projection library because one pass
 * gives the pair, the scale and the convergence, several times faster than the library's pair with
 * differences around it; the library has the same series, and tests hold the two together.
 * 2. Scale is the same in every direction: both scale factors returned are the point scale factor.
 * Reference: KARNEY-2011, equations 7–12, 23–36; figures of accuracy in docs/methods/grid-factors.md.
 */
export function createTransverseMercator(
  ellipsoid: Ellipsoid,
  parameters: TransverseMercatorParameters,
): ProjectionEngine {
  const { centralMeridianRad, scaleFactor, falseEastingM, falseNorthingM } = parameters;
  const es = ellipsoid.eccentricitySquared;
  const e = Math.sqrt(es);
  const radiusM = rectifyingRadiusM(ellipsoid) * scaleFactor;
  const scaleAtOrigin = radiusM / ellipsoid.semiMajorAxisM;
  const [a1, a2, a3, a4, a5, a6] = forwardCoefficients(ellipsoid);
  const [b1, b2, b3, b4, b5, b6] = inverseCoefficients(ellipsoid);
  const held: PlanePairAndFactors = {
    eastM: 0,
    northM: 0,
    convergenceRad: 0,
    meridianScaleFactor: 1,
    parallelScaleFactor: 1,
  };
  let originM = 0;

  function project(latitudeRad: number, longitudeRad: number, out: PlanePairAndFactors, factors: boolean): boolean {
    const dl = halfTurn(longitudeRad - centralMeridianRad);
    const sinPhi = Math.sin(latitudeRad);
    const cosPhi = Math.cos(latitudeRad);
    const sinDl = Math.sin(dl);
    const cosDl = Math.cos(dl);
    if (cosDl < 0 && Math.abs(latitudeRad) < POLAR_LATITUDE_RAD) return false;
    // Tangents of the geodetic and the conformal latitude.
    const tau = sinPhi / cosPhi;
    const secPhi = Math.sqrt(1 + tau * tau);
    const sigma = Math.sinh(e * Math.atanh(e * sinPhi));
    const t = tau * Math.sqrt(1 + sigma * sigma) - sigma * secPhi;
    const h = Math.sqrt(t * t + cosDl * cosDl);
    const sinhEta = sinDl / h;
    const eta = Math.asinh(sinhEta);
    if (!(eta <= ETA_LIMIT && eta >= -ETA_LIMIT)) return false;
    const xi = Math.atan2(t, cosDl);
    const sinXi = t / h;
    const cosXi = cosDl / h;
    const coshEta = Math.sqrt(1 + sinhEta * sinhEta);
    // Of the doubled angle.
    const s2 = 2 * sinXi * cosXi;
    const c2 = (cosXi - sinXi) * (cosXi + sinXi);
    const sh2 = 2 * sinhEta * coshEta;
    const ch2 = 1 + 2 * sinhEta * sinhEta;
    const sinRe = s2 * ch2;
    const sinIm = c2 * sh2;
    const cosRe = c2 * ch2;
    const cosIm = -s2 * sh2;
    const twoRe = 2 * cosRe;
    const twoIm = 2 * cosIm;
    // Clenshaw's sum of a_j sin 2jζ.
    let ur = a6,
      ui = 0,
      vr = 0,
      vi = 0,
      wr = 0;
    wr = a5 + twoRe * ur - vr;
    vi = twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    wr = a4 + twoRe * ur - twoIm * ui - vr;
    vi = twoRe * ui + twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    wr = a3 + twoRe * ur - twoIm * ui - vr;
    vi = twoRe * ui + twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    wr = a2 + twoRe * ur - twoIm * ui - vr;
    vi = twoRe * ui + twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    wr = a1 + twoRe * ur - twoIm * ui - vr;
    vi = twoRe * ui + twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    out.eastM = falseEastingM + radiusM * (eta + sinRe * ui + sinIm * ur);
    out.northM = falseNorthingM - originM + radiusM * (xi + sinRe * ur - sinIm * ui);
    if (factors) {
      // 1 + Σ 2j a_j cos 2jζ, the derivative of the series.
      const d6 = 12 * a6,
        d5 = 10 * a5,
        d4 = 8 * a4,
        d3 = 6 * a3,
        d2 = 4 * a2,
        d1 = 2 * a1;
      ur = d6;
      ui = 0;
      vr = 0;
      vi = 0;
      wr = d5 + twoRe * ur - vr;
      vi = twoIm * ur - vi;
      vr = ur;
      ur = wr;
      wr = vi;
      vi = ui;
      ui = wr;
      wr = d4 + twoRe * ur - twoIm * ui - vr;
      vi = twoRe * ui + twoIm * ur - vi;
      vr = ur;
      ur = wr;
      wr = vi;
      vi = ui;
      ui = wr;
      wr = d3 + twoRe * ur - twoIm * ui - vr;
      vi = twoRe * ui + twoIm * ur - vi;
      vr = ur;
      ur = wr;
      wr = vi;
      vi = ui;
      ui = wr;
      wr = d2 + twoRe * ur - twoIm * ui - vr;
      vi = twoRe * ui + twoIm * ur - vi;
      vr = ur;
      ur = wr;
      wr = vi;
      vi = ui;
      ui = wr;
      wr = d1 + twoRe * ur - twoIm * ui - vr;
      vi = twoRe * ui + twoIm * ur - vi;
      vr = ur;
      ur = wr;
      wr = vi;
      vi = ui;
      ui = wr;
      const p = 1 + cosRe * ur - cosIm * ui - vr;
      const q = -(cosRe * ui + cosIm * ur - vi);
      out.convergenceRad = Math.atan2(t * sinDl, cosDl * Math.sqrt(1 + t * t)) + Math.atan2(q, p);
      const k = (scaleAtOrigin * Math.sqrt((p * p + q * q) * (1 - es * sinPhi * sinPhi)) * secPhi) / h;
      out.meridianScaleFactor = k;
      out.parallelScaleFactor = k;
    }
    return true;
  }

  function inverse(eastM: number, northM: number, out: AnglePair): boolean {
    const eta = (eastM - falseEastingM) / radiusM;
    const xi = (northM - falseNorthingM + originM) / radiusM;
    if (!(Math.abs(eta) <= ETA_LIMIT + 0.01 && Math.abs(xi) <= Math.PI / 2 + 0.2)) return false;
    const s2 = Math.sin(2 * xi);
    const c2 = Math.cos(2 * xi);
    const sh2 = Math.sinh(2 * eta);
    const ch2 = Math.sqrt(1 + sh2 * sh2);
    const twoRe = 2 * c2 * ch2;
    const twoIm = -2 * s2 * sh2;
    let ur = b6,
      ui = 0,
      vr = 0,
      vi = 0,
      wr = 0;
    wr = b5 + twoRe * ur - vr;
    vi = twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    wr = b4 + twoRe * ur - twoIm * ui - vr;
    vi = twoRe * ui + twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    wr = b3 + twoRe * ur - twoIm * ui - vr;
    vi = twoRe * ui + twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    wr = b2 + twoRe * ur - twoIm * ui - vr;
    vi = twoRe * ui + twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    wr = b1 + twoRe * ur - twoIm * ui - vr;
    vi = twoRe * ui + twoIm * ur - vi;
    vr = ur;
    ur = wr;
    wr = vi;
    vi = ui;
    ui = wr;
    const xiPrime = xi - (s2 * ch2 * ur - c2 * sh2 * ui);
    const etaPrime = eta - (s2 * ch2 * ui + c2 * sh2 * ur);
    if (Math.abs(etaPrime) > ETA_LIMIT) return false;
    const sinhEta = Math.sinh(etaPrime);
    const sinXi = Math.sin(xiPrime);
    const cosXi = Math.cos(xiPrime);
    const r = Math.sqrt(sinhEta * sinhEta + cosXi * cosXi);
    const latitudeRad = r === 0 ? Math.sign(sinXi) * (Math.PI / 2) : Math.atan(geodeticTangent(sinXi / r, e, es));
    if (cosXi < 0 && Math.abs(latitudeRad) < POLAR_LATITUDE_RAD) return false;
    out.latitudeRad = latitudeRad;
    out.longitudeRad = halfTurn(centralMeridianRad + Math.atan2(sinhEta, cosXi));
    return true;
  }

  project(parameters.latitudeOfOriginRad, centralMeridianRad, held, false);
  originM = held.northM - falseNorthingM;
  return {
    forward: (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
      if (!project(latitudeRad, longitudeRad, held, false)) return false;
      out.eastM = held.eastM;
      out.northM = held.northM;
      return true;
    },
    inverse,
    forwardWithFactors: (latitudeRad, longitudeRad, out): boolean => project(latitudeRad, longitudeRad, out, true),
  };
}
