import { gridParameter } from '../../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { parallelRadius } from '../../../../core/projection/methods/conformal-latitude.js';
import { kruegerWorking } from '../../../../core/projection/methods/krueger-working.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { ANGLE, INPUT_ANGLE, LENGTH, LENGTH5, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import {
  conformal,
  differenceLine,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';
import { arcFormula, coefficientLines } from '../cylinders/transverse-mercator-lines.js';

/**
 * The American polyconic, worked at a place in degrees; null of a sphere and on the equator, which is a straight line.
 *
 * Reference: IOGP-373-7-2, method 9818; SNYDER-1395, equations 18-12 to 18-14; the meridian arc by the series of KARNEY-2011.
 */
export function polyconicLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines | null {
  const { ellipsoid } = grid.projection;
  if (ellipsoid.flattening === 0 || latitudeDeg === 0) return null;
  // Not stated: the equator, as the registry and PROJ take it.
  const originDeg = gridParameter(grid, 'latitude of origin') ?? 0;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const phi = degreesToRadians(latitudeDeg);
  const [own, origin] = [kruegerWorking(ellipsoid, phi, 0), kruegerWorking(ellipsoid, degreesToRadians(originDeg), 0)];
  const [arcM, originArcM] = [own.rectifyingRadiusM * own.xi, origin.rectifyingRadiusM * origin.xi];
  const nu = (ellipsoid.semiMajorAxisM * parallelRadius(phi, ellipsoid.eccentricitySquared)) / Math.cos(phi);
  const radiusM = nu / Math.tan(phi);
  const angleDeg = meridianDifference(longitudeDeg, meridianDeg) * Math.sin(phi);
  const angle = degreesToRadians(angleDeg);
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + radiusM * Math.sin(angle);
  const north = northM + arcM - originArcM + radiusM * (1 - Math.cos(angle));
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(stated('φ₀', originDeg, INPUT_ANGLE), stated('λ₀', meridianDeg, INPUT_ANGLE), falseOriginText(grid)),
    placeLine(latitudeDeg, longitudeDeg),
    ...coefficientLines(own, false),
    together(
      worked('χ', `atan(${conformal('φ', false)})`, own.xiPrime, NUMBER14),
      worked('χ₀', `atan(${conformal('φ₀', false)})`, origin.xiPrime, NUMBER14),
    ),
    worked('M', `M_R·(${arcFormula('χ')})`, arcM, LENGTH),
    worked('M₀', `M_R·(${arcFormula('χ₀')})`, originArcM, LENGTH),
    differenceLine(longitudeDeg, meridianDeg),
    worked('ν', 'a / √(1 − e²·sin²φ)', nu, LENGTH),
    worked('ρ', 'ν / tan(φ)', radiusM, LENGTH),
    worked('θ', 'Δλ·sin(φ)', angleDeg, ANGLE),
    worked('E', 'E₀ + ρ·sin(θ)', east, LENGTH5),
    worked('N', 'N₀ + M − M₀ + ρ·(1 − cos(θ))', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}
