import { elevationFactor } from '../factors/elevation-factor.js';
import { emptyGridPairAndFactors } from '../factors/grid-factors.js';
import { buildGridSystem } from '../systems/build-grid-system.js';
import type { GeographicSystem } from '../systems/geographic-system.js';
import type { GridSystem } from '../systems/grid-system.js';
import { gaussRadiusM } from '../../ellipsoid/radii.js';
import { largestOf, smallestOf } from '../../numeric/extremes.js';
import { definitionFromProjString } from '../../projection/definition/definition-from-proj-string.js';
import { DEGREES_PER_RADIAN, RADIANS_PER_DEGREE } from '../../numeric/angle-units.js';
import { bestScale, distortionOf } from './best-scale.js';
import type { DistortionMeasure } from './best-scale.js';
import { designProjString } from './design-text.js';
import type { DesignMethod, GridDesign } from './design-text.js';
import { leastOf } from './least-of.js';

/** A point of the ground that a grid is made for. */
export interface DesignPoint {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  readonly ellipsoidalHeightM: number;
}

/** The lie of the points: which way they are long, and how much longer than across. */
export interface PointsExtent {
  readonly latitudeDeg: number;
  readonly longitudeDeg: number;
  /** Of the long axis, 0 to 180, from true north. */
  readonly azimuthDeg: number;
  /** Spread across over spread along, 0 to 1. */
  readonly ratio: number;
}

/** A design without false origins, and what it reaches. */
export interface DesignCandidate {
  readonly design: GridDesign;
  readonly distortion: number;
}

/** The middle of points and the principal axes of their scatter. */
export function pointsExtent(points: readonly DesignPoint[]): PointsExtent {
  const mean = (get: (point: DesignPoint) => number): number =>
    points.reduce((sum, point) => sum + get(point), 0) / points.length;
  const latitudeDeg = mean((point) => point.latitudeDeg);
  const first = points[0]?.longitudeDeg ?? 0; // Without points there is nothing to lie anywhere.
  // Across the date line longitudes are counted on from the first.
  const turned = (point: DesignPoint): number => ((((point.longitudeDeg - first + 180) % 360) + 360) % 360) - 180;
  const middle = mean(turned);
  const shrink = Math.cos(latitudeDeg * RADIANS_PER_DEGREE);
  let [ee, en, nn] = [0, 0, 0];
  for (const point of points) {
    const e = (turned(point) - middle) * shrink;
    const n = point.latitudeDeg - latitudeDeg;
    [ee, en, nn] = [ee + e * e, en + e * n, nn + n * n];
  }
  const root = Math.hypot(ee - nn, 2 * en);
  const azimuthDeg = (Math.atan2(2 * en, nn - ee) / 2) * DEGREES_PER_RADIAN;
  const most = ee + nn + root;
  return {
    latitudeDeg,
    longitudeDeg: first + middle,
    azimuthDeg: (azimuthDeg + 180) % 180,
    ratio: most > 0 ? Math.sqrt(Math.max(0, ee + nn - root) / most) : 1,
  };
}

/** The grid of a design on the frame of its points; null where it cannot be computed. */
export function gridOfDesign(design: GridDesign, base: GeographicSystem): GridSystem | null {
  const definition = definitionFromProjString(designProjString(design, base.ellipsoid));
  if (!definition.ok) return null;
  const grid = buildGridSystem(definition.value, null);
  return grid.ok ? grid.value : null;
}

/** k₁ R/(R + h) of each point, k₁ for a scale of 1 at the origin; null where one cannot be computed. */
export function ratiosOf(
  points: readonly DesignPoint[],
  design: GridDesign,
  base: GeographicSystem,
): readonly number[] | null {
  const grid = gridOfDesign({ ...design, scaleFactor: 1 }, base);
  if (grid === null) return null;
  const out = emptyGridPairAndFactors();
  const ratios: number[] = [];
  for (const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } of points) {
    if (grid.forwardWithFactors(latitudeDeg, longitudeDeg, out) !== 'ok' || out.pointScaleFactor === null) return null;
    const radiusM = gaussRadiusM(base.ellipsoid, latitudeDeg);
    ratios.push(out.pointScaleFactor * elevationFactor(radiusM, ellipsoidalHeightM));
  }
  return ratios;
}

/** Central lines are written to these, degrees: a kilometre. */
const LINE_STEP_DEG = 0.01;
/** How far beyond the points a central line may lie, in parts of their extent. */
const BEYOND = 1;
const SCALE_STEP = 1e-6;
/** An oblique line closer than this to a meridian or a parallel is none. */
const LEAST_OBLIQUE_DEG = 3;

const rounded = (value: number, step: number): number => Math.round(value / step) * step;

/**
 * The design of one method that makes distortion over the points least: the central meridian of a transverse Mercator, the parallel of a Lambert,
 * or the azimuth of an oblique Mercator through the middle of the points, and the scale there, k₀ rounded to 6 decimals.
 *
 * Given: the points; their geographic system; the method; the measure. Returned: null where the method cannot be computed there, such as
 * a Lambert at the equator or an oblique line along a meridian. δ = k R/(R + h) − 1, R the Gaussian radius.
 */
export function designOf(
  points: readonly DesignPoint[],
  base: GeographicSystem,
  method: DesignMethod,
  measure: DistortionMeasure,
): DesignCandidate | null {
  const extent = pointsExtent(points);
  const start: GridDesign = {
    method,
    latitudeDeg: rounded(extent.latitudeDeg, LINE_STEP_DEG),
    longitudeDeg: rounded(extent.longitudeDeg, LINE_STEP_DEG),
    azimuthDeg: method === 'oblique-mercator' ? obliqueAzimuth(extent.azimuthDeg) : 0,
    scaleFactor: 1,
    falseEastingM: 0,
    falseNorthingM: 0,
  };
  const key = KEYS[method];
  const worth = (at: number): number => {
    const ratios = ratiosOf(points, { ...start, [key]: at }, base);
    return ratios === null ? Infinity : bestScale(ratios, measure).distortion;
  };
  const [least, most] = rangeOf(points, start, key);
  const step = key === 'azimuthDeg' ? 10 * LINE_STEP_DEG : LINE_STEP_DEG;
  const line = most > least ? rounded(leastOf(worth, least, most), step) : start[key];
  const design = { ...start, [key]: line };
  const ratios = ratiosOf(points, design, base);
  if (ratios === null) return null;
  const scaleFactor = rounded(bestScale(ratios, measure).scaleFactor, SCALE_STEP);
  return { design: { ...design, scaleFactor }, distortion: distortionOf(ratios, scaleFactor, measure) };
}

/** What of a design is searched. */
const KEYS = {
  'transverse-mercator': 'longitudeDeg',
  lambert: 'latitudeDeg',
  'oblique-mercator': 'azimuthDeg',
} as const;

function rangeOf(
  points: readonly DesignPoint[],
  start: GridDesign,
  key: (typeof KEYS)[DesignMethod],
): readonly [number, number] {
  if (key === 'azimuthDeg') {
    const quarter = Math.floor(start.azimuthDeg / 90) * 90;
    return [quarter + LEAST_OBLIQUE_DEG, quarter + 90 - LEAST_OBLIQUE_DEG];
  }
  const values = points.map(
    (point) => point[key] + (key === 'longitudeDeg' ? onSide(point.longitudeDeg, start.longitudeDeg) : 0),
  );
  const [least, most] = [smallestOf(values, Infinity), largestOf(values, -Infinity)];
  const more = BEYOND * (most - least);
  return [least - more, most + more];
}

/** Whole turns that bring a longitude to the side of another. */
function onSide(longitudeDeg: number, nearDeg: number): number {
  return 360 * Math.round((nearDeg - longitudeDeg) / 360);
}

/**
 * The azimuth of a line as the method takes it, of the end that goes north: turned about the centre by an azimuth beyond 90°, the axes would not point
 * north but away from it by twice what is beyond (IOGP-373-7-2, Hotine oblique Mercator: γ₀ = asin(sin α / D) has no quadrant of its own).
 */
function obliqueAzimuth(axisDeg: number): number {
  const azimuthDeg = axisDeg < 90 ? axisDeg : axisDeg + 180;
  const quarter = Math.floor(azimuthDeg / 90) * 90;
  return Math.min(quarter + 90 - LEAST_OBLIQUE_DEG, Math.max(quarter + LEAST_OBLIQUE_DEG, azimuthDeg));
}

/** Whether a line is as near to a meridian or a parallel as is searched: it would lie along it, and another method is meant. */
export function isHardlyOblique({ method, azimuthDeg }: GridDesign): boolean {
  const fromAxis = azimuthDeg % 90;
  return method === 'oblique-mercator' && Math.min(fromAxis, 90 - fromAxis) <= LEAST_OBLIQUE_DEG + LINE_STEP_DEG;
}
