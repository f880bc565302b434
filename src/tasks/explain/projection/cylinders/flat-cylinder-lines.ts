import { gridParameter } from '../../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { parallelRadius } from '../../../../core/projection/methods/conformal-latitude.js';
import { kruegerWorking } from '../../../../core/projection/methods/krueger-working.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { INPUT_ANGLE, LENGTH, LENGTH5, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import { areaFormula, areaOfLatitude } from '../planes/equal-area-lines.js';
import {
  conformal,
  differenceLine,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parallel,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';
import { arcFormula, coefficientLines } from './transverse-mercator-lines.js';

/** The parallel of true length; not stated: the equator, as the registry and PROJ take it. */
const trueParallelDeg = (grid: GridSystem): number => gridParameter(grid, 'latitude of true scale') ?? 0;

/** What the grid states of itself. */
function statedLine(grid: GridSystem): string {
  return together(
    stated('λ₀', parameterOf(grid, 'longitude of origin'), INPUT_ANGLE),
    stated('φ₁', trueParallelDeg(grid), INPUT_ANGLE),
    falseOriginText(grid),
  );
}

/** Metres to the east of the false origin along the parallel of true length, and how it is written. */
function eastward(
  grid: GridSystem,
  longitudeDeg: number,
): { readonly k: number; readonly eastM: number; readonly lines: readonly string[] } {
  const { semiMajorAxisM: a, eccentricitySquared: es } = grid.projection.ellipsoid;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const k = parallelRadius(degreesToRadians(trueParallelDeg(grid)), es);
  const away = degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const eastM = falseOrigin(grid).eastM + a * k * away;
  return {
    k,
    eastM,
    lines: [
      worked('k₁', parallel('φ₁', grid.projection.ellipsoid.flattening === 0), k, NUMBER14),
      differenceLine(longitudeDeg, meridianDeg),
      worked('E', 'E₀ + a·k₁·Δλ', eastM, LENGTH5),
    ],
  };
}

/**
 * The equidistant cylinder, worked at a place in degrees; null of an ellipsoid where a latitude of origin is stated.
 *
 * Reference: IOGP-373-7-2, method 1028; the meridian arc by the series of KARNEY-2011.
 */
export function equidistantCylinderLines(
  grid: GridSystem,
  latitudeDeg: number,
  longitudeDeg: number,
): ProjectedLines | null {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  // Not stated: the equator, as the registry and PROJ take it.
  const originDeg = gridParameter(grid, 'latitude of origin') ?? 0;
  if (!spherical && originDeg !== 0) return null;
  const originArcM = ellipsoid.semiMajorAxisM * degreesToRadians(originDeg);
  const east = eastward(grid, longitudeDeg);
  const own = kruegerWorking(ellipsoid, degreesToRadians(latitudeDeg), 0);
  const arcM = own.rectifyingRadiusM * own.xi;
  const north = falseOrigin(grid).northM + arcM - originArcM;
  const lines = [
    ...ellipsoidLines(ellipsoid),
    statedLine(grid),
    placeLine(latitudeDeg, longitudeDeg),
    ...(spherical
      ? [worked('M', 'a·φ', arcM, LENGTH)]
      : [
          ...coefficientLines(own, false),
          worked('χ', `atan(${conformal('φ', false)})`, own.xiPrime, NUMBER14),
          worked('M', `M_R·(${arcFormula('χ')})`, arcM, LENGTH),
        ]),
    ...(originDeg === 0
      ? []
      : [together(stated('φ₀', originDeg, INPUT_ANGLE), worked('M₀', 'a·φ₀', originArcM, LENGTH))]),
    ...east.lines,
    worked('N', originDeg === 0 ? 'N₀ + M' : 'N₀ + M − M₀', north, LENGTH5),
  ];
  return { lines, eastM: east.eastM, northM: north, factors: [] };
}

/**
 * Lambert's cylinder that keeps areas, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, method 9835; SNYDER-1395, equations 10-13 to 10-15.
 */
export function equalAreaCylinderLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const east = eastward(grid, longitudeDeg);
  const q = areaOfLatitude(ellipsoid, latitudeDeg);
  const north = falseOrigin(grid).northM + (ellipsoid.semiMajorAxisM * q) / (2 * east.k);
  const lines = [
    ...ellipsoidLines(ellipsoid),
    statedLine(grid),
    placeLine(latitudeDeg, longitudeDeg),
    ...east.lines,
    worked('q', areaFormula('φ', ellipsoid.flattening === 0), q, NUMBER14),
    worked('N', 'N₀ + a·q / (2·k₁)', north, LENGTH5),
  ];
  return { lines, eastM: east.eastM, northM: north, factors: [] };
}
