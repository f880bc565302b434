import { gridParameter } from '../../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import type { Ellipsoid } from '../../../../core/ellipsoid/ellipsoid.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { parallelRadius } from '../../../../core/projection/methods/conformal-latitude.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { ANGLE, INPUT_ANGLE, LENGTH, LENGTH5, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import {
  differenceLine,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parallel,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

const degrees = (radians: number): number => radians * DEGREES_PER_RADIAN;
/** q of a named latitude as a formula: what is in proportion to the area between the equator and its parallel. */
export const areaFormula = (latitude: string, spherical: boolean): string =>
  spherical
    ? `2·sin ${latitude}`
    : `(1 − e²)·(sin ${latitude} / (1 − e²·sin²${latitude}) + atanh(e·sin ${latitude}) / e)`;
/** The same of the pole. */
export const areaOfPoleFormula = (spherical: boolean): string => (spherical ? '2' : '1 + (1 − e²)·atanh(e) / e');

/** q of a latitude; SNYDER-1395, equation 3-12, with atanh in the place of the logarithm. */
export function areaOfLatitude(
  { eccentricitySquared: es }: Pick<Ellipsoid, 'eccentricitySquared'>,
  deg: number,
): number {
  const [e, sin] = [Math.sqrt(es), Math.abs(deg) === 90 ? Math.sign(deg) : Math.sin(degreesToRadians(deg))];
  if (es === 0) return 2 * sin;
  return (1 - es) * (sin / (1 - es * sin * sin) + Math.atanh(e * sin) / e);
}

/** The same about a pole. Reference: IOGP-373-7-2, method 9820, polar cases; SNYDER-1395, equations 24-21 to 24-25. */
function polarEqualAreaLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const isNorth = parameterOf(grid, 'latitude of origin') > 0;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const [atPole, atPlace] = [areaOfLatitude(ellipsoid, 90), areaOfLatitude(ellipsoid, latitudeDeg)];
  const radiusM = ellipsoid.semiMajorAxisM * Math.sqrt(Math.max(0, isNorth ? atPole - atPlace : atPole + atPlace));
  const away = degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + radiusM * Math.sin(away);
  const north = northM + (isNorth ? -radiusM : radiusM) * Math.cos(away);
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(stated('λ₀', meridianDeg, INPUT_ANGLE), falseOriginText(grid)),
    placeLine(latitudeDeg, longitudeDeg),
    worked('q_P', areaOfPoleFormula(spherical), atPole, NUMBER14),
    worked('q', areaFormula('φ', spherical), atPlace, NUMBER14),
    worked('ρ', isNorth ? 'a·√(q_P − q)' : 'a·√(q_P + q)', radiusM, LENGTH),
    differenceLine(longitudeDeg, meridianDeg),
    worked('E', 'E₀ + ρ·sin(Δλ)', east, LENGTH5),
    worked('N', isNorth ? 'N₀ − ρ·cos(Δλ)' : 'N₀ + ρ·cos(Δλ)', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}

/**
 * Lambert's azimuthal equal-area projection, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, method 9820.
 */
export function azimuthalEqualAreaLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  // Not stated: the equator, as PROJ takes it.
  const originDeg = gridParameter(grid, 'latitude of origin') ?? 0;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  if (Math.abs(originDeg) === 90) return polarEqualAreaLines(grid, latitudeDeg, longitudeDeg);
  const [es, a] = [ellipsoid.eccentricitySquared, ellipsoid.semiMajorAxisM];
  const [atPole, atOrigin, atPlace] = [
    areaOfLatitude(ellipsoid, 90),
    areaOfLatitude(ellipsoid, originDeg),
    areaOfLatitude(ellipsoid, latitudeDeg),
  ];
  const [beta0, beta] = [Math.asin(atOrigin / atPole), Math.asin(atPlace / atPole)];
  const radiusM = a * Math.sqrt(atPole / 2);
  const m0 = parallelRadius(degreesToRadians(originDeg), es);
  const d = (a * m0) / (radiusM * Math.cos(beta0));
  const away = degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const far =
    radiusM * Math.sqrt(2 / (1 + Math.sin(beta0) * Math.sin(beta) + Math.cos(beta0) * Math.cos(beta) * Math.cos(away)));
  const east = falseOrigin(grid).eastM + far * d * Math.cos(beta) * Math.sin(away);
  const north =
    falseOrigin(grid).northM +
    (far / d) * (Math.cos(beta0) * Math.sin(beta) - Math.sin(beta0) * Math.cos(beta) * Math.cos(away));
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(stated('φ₀', originDeg, INPUT_ANGLE), stated('λ₀', meridianDeg, INPUT_ANGLE), falseOriginText(grid)),
    placeLine(latitudeDeg, longitudeDeg),
    worked('q_P', areaOfPoleFormula(spherical), atPole, NUMBER14),
    worked('q₀', areaFormula('φ₀', spherical), atOrigin, NUMBER14),
    worked('q', areaFormula('φ', spherical), atPlace, NUMBER14),
    together(worked('β₀', 'asin(q₀ / q_P)', degrees(beta0), ANGLE), worked('β', 'asin(q / q_P)', degrees(beta), ANGLE)),
    worked('R', 'a·√(q_P / 2)', radiusM, LENGTH),
    worked('m₀', parallel('φ₀', spherical), m0, NUMBER14),
    worked('D', 'a·m₀ / (R·cos(β₀))', d, NUMBER14),
    differenceLine(longitudeDeg, meridianDeg),
    worked('B', 'R·√(2 / (1 + sin(β₀)·sin(β) + cos(β₀)·cos(β)·cos(Δλ)))', far, LENGTH),
    worked('E', 'E₀ + B·D·cos(β)·sin(Δλ)', east, LENGTH5),
    worked('N', 'N₀ + B / D·(cos(β₀)·sin(β) − sin(β₀)·cos(β)·cos(Δλ))', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}
