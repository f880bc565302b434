import { gridParameter } from '../../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../../core/numeric/angle-units.js';
import {
  eccentricity,
  isometricLatitude,
  parallelRadius,
} from '../../../../core/projection/methods/conformal-latitude.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import {
  ANGLE,
  INPUT_ANGLE,
  LENGTH,
  LENGTH5,
  NUMBER,
  NUMBER14,
  stated,
  together,
  worked,
} from '../../lines/worked-lines.js';
import {
  conformal,
  differenceLine,
  factorForms,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parallel,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

/**
 * The stereographic map of an ellipsoid about a place that is no pole, by its conformal latitude, worked at a place in degrees.
 *
 * Reference: SNYDER-1395, equations 3-1, 21-24 to 21-27.
 */
export function anyStereographicLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const [e, es, a] = [eccentricity(ellipsoid), ellipsoid.eccentricitySquared, ellipsoid.semiMajorAxisM];
  // Not stated: the equator and 1, as PROJ takes them.
  const originDeg = gridParameter(grid, 'latitude of origin') ?? 0;
  const scale = gridParameter(grid, 'scale factor at origin') ?? 1;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const onSphere = (deg: number): number => Math.asin(Math.tanh(isometricLatitude(degreesToRadians(deg), e)));
  const m = (deg: number): number => parallelRadius(degreesToRadians(deg), es);
  const [chi0, chi] = [onSphere(originDeg), onSphere(latitudeDeg)];
  const turned = degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const b = 1 + Math.sin(chi0) * Math.sin(chi) + Math.cos(chi0) * Math.cos(chi) * Math.cos(turned);
  const unitM = (2 * a * scale * m(originDeg)) / (Math.cos(chi0) * b);
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + unitM * Math.cos(chi) * Math.sin(turned);
  const north = northM + unitM * (Math.cos(chi0) * Math.sin(chi) - Math.sin(chi0) * Math.cos(chi) * Math.cos(turned));
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(
      stated('φ₀', originDeg, INPUT_ANGLE),
      stated('λ₀', meridianDeg, INPUT_ANGLE),
      stated('k₀', scale, NUMBER),
      falseOriginText(grid),
    ),
    placeLine(latitudeDeg, longitudeDeg),
    worked('χ₀', `atan(${conformal('φ₀', spherical)})`, chi0 * DEGREES_PER_RADIAN, ANGLE),
    worked('χ', `atan(${conformal('φ', spherical)})`, chi * DEGREES_PER_RADIAN, ANGLE),
    worked('m₀', parallel('φ₀', spherical), m(originDeg), NUMBER14),
    differenceLine(longitudeDeg, meridianDeg),
    worked('B', '1 + sin χ₀·sin χ + cos χ₀·cos χ·cos Δλ', b, NUMBER),
    worked('A', '2·a·k₀·m₀ / (cos χ₀·B)', unitM, LENGTH),
    worked('E', 'E₀ + A·cos χ·sin Δλ', east, LENGTH5),
    worked('N', 'N₀ + A·(cos χ₀·sin χ − sin χ₀·cos χ·cos Δλ)', north, LENGTH5),
  ];
  const gamma = Math.atan2(
    (Math.sin(chi) + Math.sin(chi0)) * Math.sin(turned),
    Math.cos(chi) * Math.cos(chi0) + (1 + Math.sin(chi) * Math.sin(chi0)) * Math.cos(turned),
  );
  const factors = [
    worked('m', parallel('φ', spherical), m(latitudeDeg), NUMBER14),
    worked('k', 'A·cos χ / (a·m)', (unitM * Math.cos(chi)) / (a * m(latitudeDeg)), factorForms.scale),
    worked(
      'γ',
      'atan2((sin χ + sin χ₀)·sin Δλ, cos χ·cos χ₀ + (1 + sin χ·sin χ₀)·cos Δλ)',
      gamma * DEGREES_PER_RADIAN,
      factorForms.convergence,
    ),
  ];
  return { lines, eastM: east, northM: north, factors };
}
