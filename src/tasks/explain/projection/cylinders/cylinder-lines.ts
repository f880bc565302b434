import { gridParameter } from '../../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../../core/numeric/angle-units.js';
import {
  eccentricity,
  isometricLatitude,
  parallelRadius,
} from '../../../../core/projection/methods/conformal-latitude.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { ANGLE, INPUT_ANGLE, LENGTH5, NUMBER, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import { conformalSphere } from '../planes/conformal-sphere-lines.js';
import {
  differenceLine,
  factorForms,
  falseOrigin,
  falseOriginText,
  isometric,
  meridianDifference,
  originLine,
  parallel,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

/** Mercator, worked at a place in degrees. Reference: IOGP-373-7-2, methods 9804 and 9805. */
export function mercatorLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const a = ellipsoid.semiMajorAxisM;
  const m = (deg: number): number => parallelRadius(degreesToRadians(deg), ellipsoid.eccentricitySquared);
  const trueDeg = gridParameter(grid, 'latitude of true scale');
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const scale = trueDeg === null ? (gridParameter(grid, 'scale factor at origin') ?? 1) : m(trueDeg);
  const q = isometricLatitude(degreesToRadians(latitudeDeg), eccentricity(ellipsoid));
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + a * scale * degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const north = northM + a * scale * q;
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(
      stated('λ₀', meridianDeg, INPUT_ANGLE),
      trueDeg === null ? stated('k₀', scale, NUMBER) : stated('φ₁', trueDeg, INPUT_ANGLE),
      falseOriginText(grid),
    ),
    placeLine(latitudeDeg, longitudeDeg),
    ...(trueDeg === null ? [] : [worked('k₀', parallel('φ₁', spherical), scale, NUMBER14)]),
    worked('q', isometric('φ', spherical), q, NUMBER14),
    differenceLine(longitudeDeg, meridianDeg),
    worked('E', 'E₀ + a·k₀·Δλ', east, LENGTH5),
    worked('N', 'N₀ + a·k₀·q', north, LENGTH5),
  ];
  const factors = [
    worked('m', parallel('φ', spherical), m(latitudeDeg), NUMBER14),
    worked('k', 'k₀ / m', scale / m(latitudeDeg), factorForms.scale),
    'γ = 0°',
  ];
  return { lines, eastM: east, northM: north, factors };
}

/**
 * The oblique cylinder of the Swiss maps over a conformal sphere, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, method 9815, its azimuth 90°: then the aposphere's sphere is turned and put on a cylinder.
 */
export function swissCylinderLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const [es, a] = [ellipsoid.eccentricitySquared, ellipsoid.semiMajorAxisM];
  const originDeg = parameterOf(grid, 'latitude of origin');
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const scale = parameterOf(grid, 'scale factor at origin');
  const own = conformalSphere(ellipsoid, originDeg, latitudeDeg, { ratio: 'α', latitude: 'b' });
  const { radiusM, ratio: alpha, originRad: b0, latitudeRad: b } = own;
  const l = alpha * degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const sinTurned = Math.cos(b0) * Math.sin(b) - Math.sin(b0) * Math.cos(b) * Math.cos(l);
  const turnedB = Math.asin(sinTurned);
  const turnedL = Math.atan2(
    Math.cos(b) * Math.sin(l),
    Math.sin(b0) * Math.sin(b) + Math.cos(b0) * Math.cos(b) * Math.cos(l),
  );
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + scale * radiusM * turnedL;
  const north = northM + scale * radiusM * Math.atanh(sinTurned);
  const degrees = (radians: number): number => radians * DEGREES_PER_RADIAN;
  const lines = [
    ...ellipsoidLines(ellipsoid),
    originLine(grid),
    placeLine(latitudeDeg, longitudeDeg),
    ...own.sphere,
    ...own.place,
    differenceLine(longitudeDeg, meridianDeg),
    worked('l', 'α·Δλ', degrees(l), ANGLE),
    worked('B', 'asin(cos b₀·sin b − sin b₀·cos b·cos l)', degrees(turnedB), ANGLE),
    worked('L', 'atan2(cos b·sin l, sin b₀·sin b + cos b₀·cos b·cos l)', degrees(turnedL), ANGLE),
    worked('E', 'E₀ + k₀·R·L', east, LENGTH5),
    worked('N', 'N₀ + k₀·R·atanh(sin B)', north, LENGTH5),
  ];
  const m = parallelRadius(degreesToRadians(latitudeDeg), es);
  const scaleAt = (scale * alpha * radiusM * Math.cos(b)) / (a * m * Math.cos(turnedB));
  const gamma = Math.atan2(
    Math.sin(b0) * Math.sin(l),
    Math.cos(b0) * Math.cos(b) + Math.sin(b0) * Math.sin(b) * Math.cos(l),
  );
  const factors = [
    worked('m', parallel('φ', spherical), m, NUMBER14),
    worked('k', 'k₀·α·R·cos b / (a·m·cos B)', scaleAt, factorForms.scale),
    worked('γ', 'atan2(sin b₀·sin l, cos b₀·cos b + sin b₀·sin b·cos l)', degrees(gamma), factorForms.convergence),
  ];
  return { lines, eastM: east, northM: north, factors };
}
