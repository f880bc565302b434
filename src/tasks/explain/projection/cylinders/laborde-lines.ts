import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { ANGLE, INPUT_ANGLE, LENGTH5, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import { conformalSphere } from '../planes/conformal-sphere-lines.js';
import { differenceLine, falseOrigin, meridianDifference, originLine, parameterOf, placeLine } from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

/**
 * Laborde's oblique Mercator, worked at a place in degrees: the transverse Mercator map of a conformal sphere, H = n + i e, and
 * H + G H³ of it. Reference: IOGP-373-7-2, method 9813.
 */
export function labordeLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const own = conformalSphere(ellipsoid, parameterOf(grid, 'latitude of origin'), latitudeDeg, {
    ratio: 'B',
    latitude: 'P',
  });
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const azimuthDeg = parameterOf(grid, 'azimuth of the initial line');
  const scaledM = own.radiusM * parameterOf(grid, 'scale factor at origin');
  const l = own.ratio * degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const [sin, cos] = [Math.sin(own.latitudeRad), Math.cos(own.latitudeRad)];
  const [sin0, cos0] = [Math.sin(own.originRad), Math.cos(own.originRad)];
  const u = cos * Math.cos(l) * cos0 + sin * sin0;
  const v = cos * Math.cos(l) * sin0 - sin * cos0;
  const w = cos * Math.sin(l);
  const [n, e] = [-Math.atan2(v, u), Math.atanh(w)];
  const [cubeN, cubeE] = [n ** 3 - 3 * n * e ** 2, 3 * n ** 2 * e - e ** 3];
  const twice = 2 * degreesToRadians(azimuthDeg);
  const [gN, gE] = [(1 - Math.cos(twice)) / 12, Math.sin(twice) / 12];
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + scaledM * (e + gN * cubeE + gE * cubeN);
  const north = northM + scaledM * (n + gN * cubeN - gE * cubeE);
  const lines = [
    ...ellipsoidLines(ellipsoid),
    originLine(grid),
    stated('α', azimuthDeg, INPUT_ANGLE),
    placeLine(latitudeDeg, longitudeDeg),
    ...own.sphere,
    ...own.place,
    differenceLine(longitudeDeg, meridianDeg),
    worked('L', 'B·Δλ', l * DEGREES_PER_RADIAN, ANGLE),
    worked('u', 'cos P·cos L·cos b₀ + sin P·sin b₀', u, NUMBER14),
    worked('v', 'cos P·cos L·sin b₀ − sin P·cos b₀', v, NUMBER14),
    worked('w', 'cos P·sin L', w, NUMBER14),
    together(worked('n', '−atan2(v, u)', n, NUMBER14), worked('e_H', 'atanh(w)', e, NUMBER14)),
    together(worked('C_n', 'n³ − 3·n·e_H²', cubeN, NUMBER14), worked('C_e', '3·n²·e_H − e_H³', cubeE, NUMBER14)),
    together(worked('G_n', '(1 − cos(2·α)) / 12', gN, NUMBER14), worked('G_e', 'sin(2·α) / 12', gE, NUMBER14)),
    worked('E', 'E₀ + k₀·R·(e_H + G_n·C_e + G_e·C_n)', east, LENGTH5),
    worked('N', 'N₀ + k₀·R·(n + G_n·C_n − G_e·C_e)', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: [] };
}
