import type { Ellipsoid } from '../../ellipsoid/ellipsoid.js';
import { createNumericFactors } from '../../grid/factors/numeric-factors.js';
import type { AnglePair, PlanePair, ProjectionEngine } from '../projection-engine.js';
import { halfTurn, isPole } from './conformal-latitude.js';
import { createConformalSphere } from './conformal-sphere.js';

/** Parameters of Laborde's projection; angles in radians, lengths in metres. */
export interface LabordeParameters {
  readonly latitudeOfCentreRad: number;
  readonly longitudeOfCentreRad: number;
  /** Azimuth of the initial line, clockwise from north. */
  readonly azimuthRad: number;
  readonly scaleFactor: number;
  readonly falseEastingM: number;
  readonly falseNorthingM: number;
}

/** Radii from the centre, on the transverse Mercator map of the sphere, beyond which the cubic is not used. */
const WIDEST = 0.5;
const MOST_STEPS = 20;

/**
 * Laborde's oblique Mercator (EPSG method 9813): a sphere that keeps angles, its transverse Mercator map, and a cubic that
 * turns the line of least distortion to the azimuth given.
 *
 * Given: the ellipsoid and the parameters. Returned: the projection; null for a centre at a pole.
 * Note: the cubic is solved for on the way back, by Newton's method with complex numbers.
 * Reference: IOGP-373-7-2, method 9813.
 */
export function createLaborde(ellipsoid: Ellipsoid, parameters: LabordeParameters): ProjectionEngine | null {
  const { latitudeOfCentreRad, longitudeOfCentreRad, azimuthRad, falseEastingM, falseNorthingM } = parameters;
  if (isPole(latitudeOfCentreRad)) return null;
  const sphere = createConformalSphere(ellipsoid, latitudeOfCentreRad);
  const [sinOrigin, cosOrigin] = [Math.sin(sphere.originRad), Math.cos(sphere.originRad)];
  const radiusM = sphere.radiusM * parameters.scaleFactor;
  const g = [(1 - Math.cos(2 * azimuthRad)) / 12, Math.sin(2 * azimuthRad) / 12] as const;

  const forward = (latitudeRad: number, longitudeRad: number, out: PlanePair): boolean => {
    if (isPole(latitudeRad)) return false;
    const isometric = sphere.isometric(latitudeRad);
    const away = sphere.ratio * halfTurn(longitudeRad - longitudeOfCentreRad);
    const [sin, cos] = [Math.tanh(isometric), 1 / Math.cosh(isometric)];
    const u = cos * Math.cos(away) * cosOrigin + sin * sinOrigin;
    const v = cos * Math.cos(away) * sinOrigin - sin * cosOrigin;
    const w = cos * Math.sin(away);
    // Along north and east, in radii: the transverse Mercator map of the sphere.
    const h = [-Math.atan2(v, u), Math.atanh(w)] as const;
    if (!(Math.hypot(h[0], h[1]) < WIDEST)) return false;
    const [cubeN, cubeE] = times(times(h, h), h);
    const [addedN, addedE] = times(g, [cubeN, cubeE]);
    out.eastM = falseEastingM + radiusM * (h[1] + addedE);
    out.northM = falseNorthingM + radiusM * (h[0] + addedN);
    return true;
  };

  const inverse = (eastM: number, northM: number, out: AnglePair): boolean => {
    const h = rootOf(g, (northM - falseNorthingM) / radiusM, (eastM - falseEastingM) / radiusM);
    if (h === null || !(Math.hypot(h[0], h[1]) < WIDEST)) return false;
    const w = Math.tanh(h[1]);
    const u = Math.cos(h[0]) / Math.cosh(h[1]);
    const v = -Math.sin(h[0]) / Math.cosh(h[1]);
    const along = u * cosOrigin + v * sinOrigin;
    const sin = u * sinOrigin - v * cosOrigin;
    out.latitudeRad = sphere.latitudeRad(Math.asinh(sin / Math.hypot(along, w)));
    out.longitudeRad = halfTurn(longitudeOfCentreRad + Math.atan2(w, along) / sphere.ratio);
    return true;
  };
  return { forward, inverse, forwardWithFactors: createNumericFactors(forward, ellipsoid) };
}

type Complex = readonly [number, number];

function times([a, b]: Complex, [c, d]: Complex): Complex {
  return [a * c - b * d, a * d + b * c];
}

/** The h of h + g h³ = north + i east; null where the steps do not settle. */
function rootOf(g: Complex, north: number, east: number): Complex | null {
  let h: Complex = [north, east];
  for (let i = 0; i < MOST_STEPS; i += 1) {
    const square = times(h, h);
    const [cubeN, cubeE] = times(g, times(square, h));
    const [slopeN, slopeE] = times(g, square);
    const slope: Complex = [1 + 3 * slopeN, 3 * slopeE];
    const rest: Complex = [h[0] + cubeN - north, h[1] + cubeE - east];
    const size = slope[0] * slope[0] + slope[1] * slope[1];
    const step = times(rest, [slope[0] / size, -slope[1] / size]);
    h = [h[0] - step[0], h[1] - step[1]];
    if (Math.hypot(step[0], step[1]) < 1e-15) return h;
  }
  return Number.isFinite(h[0]) && Number.isFinite(h[1]) ? h : null;
}
