import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import { ANGLE, INPUT_ANGLE, LENGTH5, NUMBER14, stated, together, worked } from '../../lines/worked-lines.js';
import { conformalSphere } from '../planes/conformal-sphere-lines.js';
import type { ConformalSphere } from '../planes/conformal-sphere-lines.js';
import {
  differenceLine,
  factorForms,
  falseOrigin,
  meridianDifference,
  originLine,
  parallel,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import { parallelRadius } from '../../../../core/projection/methods/conformal-latitude.js';
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
  const factors = labordeFactors(grid, latitudeDeg, { own, scaledM, l, w, n, e, gN, gE });
  return { lines, eastM: east, northM: north, factors };
}

/** What the factors of a place are made of. */
interface LabordePlace {
  readonly own: ConformalSphere;
  readonly scaledM: number;
  readonly l: number;
  readonly w: number;
  readonly n: number;
  readonly e: number;
  readonly gN: number;
  readonly gE: number;
}

/** Scale and convergence: those of the transverse Mercator map of the sphere, and of H + G H³, whose derivative is 1 + 3 G H². */
function labordeFactors(
  grid: GridSystem,
  latitudeDeg: number,
  { own, scaledM, l, w, n, e, gN, gE }: LabordePlace,
): readonly string[] {
  const { ellipsoid } = grid.projection;
  const [sin, cos] = [Math.sin(own.latitudeRad), Math.cos(own.latitudeRad)];
  const [squareN, squareE] = [n * n - e * e, 2 * n * e];
  const [slopeN, slopeE] = [1 + 3 * (gN * squareN - gE * squareE), 3 * (gN * squareE + gE * squareN)];
  const m = parallelRadius(degreesToRadians(latitudeDeg), ellipsoid.eccentricitySquared);
  const onSphere = (scaledM * own.ratio * cos) / (ellipsoid.semiMajorAxisM * m * Math.sqrt(1 - w * w));
  const turned = Math.atan2(sin * Math.sin(l), Math.cos(l)) - Math.atan2(slopeE, slopeN);
  return [
    worked('m', parallel('φ', ellipsoid.flattening === 0), m, NUMBER14),
    together(
      worked('F_n', '1 + 3·(G_n·(n² − e_H²) − 2·G_e·n·e_H)', slopeN, NUMBER14),
      worked('F_e', '3·(2·G_n·n·e_H + G_e·(n² − e_H²))', slopeE, NUMBER14),
    ),
    worked(
      'k',
      'k₀·R·B·cos P·√(F_n² + F_e²) / (a·m·√(1 − w²))',
      onSphere * Math.hypot(slopeN, slopeE),
      factorForms.scale,
    ),
    worked('γ', 'atan2(sin P·sin L, cos L) − atan2(F_e, F_n)', turned * DEGREES_PER_RADIAN, factorForms.convergence),
  ];
}
