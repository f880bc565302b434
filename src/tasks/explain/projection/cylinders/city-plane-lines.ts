import { meridianRadiusM, primeVerticalRadiusM } from '../../../../core/ellipsoid/radii.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { INPUT, INPUT_ANGLE, LENGTH, LENGTH5, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import {
  differenceLine,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

const meridian = (latitude: string): string => `a·(1 − e²) / ((1 − e²·sin²${latitude})·√(1 − e²·sin²${latitude}))`;
const vertical = (latitude: string): string => `a / √(1 − e²·sin²${latitude})`;

/**
 * The plane at a height over a city, Colombia Urban, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, method 1052.
 */
export function cityPlaneLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const [originDeg, meridianDeg] = [parameterOf(grid, 'latitude of origin'), parameterOf(grid, 'longitude of origin')];
  const heightM = parameterOf(grid, 'height of the plane of projection');
  const middleDeg = (originDeg + latitudeDeg) / 2;
  const [rho0, rhoM] = [meridianRadiusM(ellipsoid, originDeg), meridianRadiusM(ellipsoid, middleDeg)];
  const [nu0, nu] = [primeVerticalRadiusM(ellipsoid, originDeg), primeVerticalRadiusM(ellipsoid, latitudeDeg)];
  const away = degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const up = degreesToRadians(latitudeDeg - originDeg);
  const alongM = nu * Math.cos(degreesToRadians(latitudeDeg)) * away;
  const [a, g] = [1 + heightM / nu0, 1 + heightM / rhoM];
  const bendM = (Math.tan(degreesToRadians(originDeg)) * alongM * alongM) / (2 * nu0);
  const east = falseOrigin(grid).eastM + a * alongM;
  const north = falseOrigin(grid).northM + g * (rho0 * up + bendM);
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(
      stated('φ₀', originDeg, INPUT_ANGLE),
      stated('λ₀', meridianDeg, INPUT_ANGLE),
      stated('h₀', heightM, INPUT),
      falseOriginText(grid),
    ),
    placeLine(latitudeDeg, longitudeDeg),
    together(worked('ρ₀', meridian('φ₀'), rho0, LENGTH), worked('ν₀', vertical('φ₀'), nu0, LENGTH)),
    worked('φ_m', '(φ₀ + φ) / 2', middleDeg, INPUT_ANGLE),
    together(worked('ρ_m', meridian('φ_m'), rhoM, LENGTH), worked('ν', vertical('φ'), nu, LENGTH)),
    worked('A', '1 + h₀ / ν₀', a, NUMBER14),
    worked('G', '1 + h₀ / ρ_m', g, NUMBER14),
    differenceLine(longitudeDeg, meridianDeg),
    worked('x', 'ν·cos(φ)·Δλ', alongM, INPUT),
    worked('b', 'tan(φ₀)·x² / (2·ν₀)', bendM, INPUT),
    worked('E', 'E₀ + A·x', east, LENGTH5),
    worked('N', 'N₀ + G·(ρ₀·(φ − φ₀) + b)', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}
