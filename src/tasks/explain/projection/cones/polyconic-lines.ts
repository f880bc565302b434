import { gridParameter } from '../../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { parallelRadius } from '../../../../core/projection/methods/conformal-latitude.js';
import { kruegerWorking } from '../../../../core/projection/methods/krueger-working.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { ANGLE, INPUT_ANGLE, LENGTH, LENGTH5, stated, together, worked } from '../../lines/worked-lines.js';
import {
  differenceLine,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';
import { meridianArcLines } from '../cylinders/meridian-arc-lines.js';

/**
 * The American polyconic, worked at a place in degrees; on the equator, which is a straight line, along it.
 *
 * Reference: IOGP-373-7-2, method 9818; SNYDER-1395, equations 18-12 to 18-14; the meridian arc by the series of KARNEY-2011.
 */
export function polyconicLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const onEquator = latitudeDeg === 0;
  // Not stated: the equator, as the registry and PROJ take it.
  const originDeg = gridParameter(grid, 'latitude of origin') ?? 0;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const phi = degreesToRadians(latitudeDeg);
  const [own, origin] = [kruegerWorking(ellipsoid, phi, 0), kruegerWorking(ellipsoid, degreesToRadians(originDeg), 0)];
  const [arcM, originArcM] = [own.rectifyingRadiusM * own.xi, origin.rectifyingRadiusM * origin.xi];
  const nu = (ellipsoid.semiMajorAxisM * parallelRadius(phi, ellipsoid.eccentricitySquared)) / Math.cos(phi);
  // A straight line has none.
  const radiusM = onEquator ? 0 : nu / Math.tan(phi);
  const angleDeg = meridianDifference(longitudeDeg, meridianDeg) * Math.sin(phi);
  const angle = degreesToRadians(angleDeg);
  const { eastM, northM } = falseOrigin(grid);
  const alongM = ellipsoid.semiMajorAxisM * degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const east = eastM + (onEquator ? alongM : radiusM * Math.sin(angle));
  const north = northM + arcM - originArcM + radiusM * (1 - Math.cos(angle));
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(stated('φ₀', originDeg, INPUT_ANGLE), stated('λ₀', meridianDeg, INPUT_ANGLE), falseOriginText(grid)),
    placeLine(latitudeDeg, longitudeDeg),
    ...meridianArcLines({ own, origin, arcM, originArcM }, spherical),
    differenceLine(longitudeDeg, meridianDeg),
    ...(onEquator
      ? [worked('E', 'E₀ + a·Δλ', east, LENGTH5), worked('N', 'N₀ + M − M₀', north, LENGTH5)]
      : [
          worked('ν', spherical ? 'a' : 'a / √(1 − e²·sin²φ)', nu, LENGTH),
          worked('ρ', 'ν / tan(φ)', radiusM, LENGTH),
          worked('θ', 'Δλ·sin(φ)', angleDeg, ANGLE),
          worked('E', 'E₀ + ρ·sin(θ)', east, LENGTH5),
          worked('N', 'N₀ + M − M₀ + ρ·(1 − cos(θ))', north, LENGTH5),
        ]),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}
