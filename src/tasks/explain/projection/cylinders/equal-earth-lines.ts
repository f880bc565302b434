import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../../core/numeric/angle-units.js';
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
import { areaFormula, areaOfLatitude, areaOfPoleFormula } from '../planes/equal-area-lines.js';
import {
  differenceLine,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

/** Coefficients of the polynomial. Reference: IOGP-373-7-2, method 1078. */
const A1 = 1.340264;
const A2 = -0.081106;
const A3 = 0.000893;
const A4 = 0.003796;

/**
 * Equal Earth, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, method 1078.
 */
export function equalEarthLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const [atPole, q] = [areaOfLatitude(ellipsoid, 90), areaOfLatitude(ellipsoid, latitudeDeg)];
  const beta = Math.asin(q / atPole);
  const theta = Math.asin((Math.sqrt(3) / 2) * Math.sin(beta));
  const radiusM = ellipsoid.semiMajorAxisM * Math.sqrt(atPole / 2);
  const t2 = theta * theta;
  const along = A1 + A2 * t2 + t2 ** 3 * (A3 + A4 * t2);
  const slope = A1 + 3 * A2 * t2 + t2 ** 3 * (7 * A3 + 9 * A4 * t2);
  const away = degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const east = falseOrigin(grid).eastM + (2 * radiusM * away * Math.cos(theta)) / (Math.sqrt(3) * slope);
  const north = falseOrigin(grid).northM + radiusM * theta * along;
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(stated('λ₀', meridianDeg, INPUT_ANGLE), falseOriginText(grid)),
    together(stated('A₁', A1, NUMBER), stated('A₂', A2, NUMBER), stated('A₃', A3, NUMBER), stated('A₄', A4, NUMBER)),
    placeLine(latitudeDeg, longitudeDeg),
    worked('q_P', areaOfPoleFormula(spherical), atPole, NUMBER14),
    worked('q', areaFormula('φ', spherical), q, NUMBER14),
    worked('β', 'asin(q / q_P)', beta * DEGREES_PER_RADIAN, ANGLE),
    worked('θ', 'asin(√(3) / 2·sin(β))', theta * DEGREES_PER_RADIAN, ANGLE),
    worked('R', 'a·√(q_P / 2)', radiusM, LENGTH),
    worked('P', 'A₁ + A₂·θ² + θ⁶·(A₃ + A₄·θ²)', along, NUMBER14),
    worked('P′', 'A₁ + 3·A₂·θ² + θ⁶·(7·A₃ + 9·A₄·θ²)', slope, NUMBER14),
    differenceLine(longitudeDeg, meridianDeg),
    worked('E', 'E₀ + 2·R·Δλ·cos(θ) / (√(3)·P′)', east, LENGTH5),
    worked('N', 'N₀ + R·θ·P', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}
