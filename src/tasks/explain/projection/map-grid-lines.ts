import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../core/numeric/angle-units.js';
import { parallelRadius } from '../../../core/projection/methods/conformal-latitude.js';
import { ellipsoidLines } from '../position/explain-geodetic.js';
import {
  INPUT_ANGLE,
  LENGTH5,
  NUMBER,
  NUMBER14,
  inOne,
  lowered,
  stated,
  together,
  withDecimals,
  worked,
} from '../lines/worked-lines.js';
import {
  differenceLine,
  factorForms,
  falseOrigin,
  falseOriginText,
  meridianDifference,
  parallel,
  parameterOf,
  placeLine,
} from './grid-lines.js';
import type { ProjectedLines } from './grid-lines.js';

/** Of the isometric latitude, by powers of the latitude in units of 100 000″. IOGP-373-7-2, method 9811. */
const A = [
  0.6399175073, -0.1358797613, 0.063294409, -0.02526853, 0.0117879, -0.0055161, 0.0026906, -0.001333, 0.00067, -0.00034,
] as const;
/** Of north and east, in radii, by complex powers. IOGP-373-7-2, method 9811. */
const B = [
  [0.7557853228, 0],
  [0.249204646, 0.003371507],
  [-0.001541739, 0.04105856],
  [-0.10162907, 0.01727609],
  [-0.26623489, -0.36249218],
  [-0.6870983, -1.1651967],
] as const;
const UNIT_SECONDS = 100_000;
const COEFFICIENT = withDecimals(NUMBER, 10);

/** The powers of x + i y, as many as there are coefficients. */
function powersOf(x: number, y: number): readonly (readonly [number, number])[] {
  const powers: (readonly [number, number])[] = [[x, y]];
  for (const [re, im] of powers) {
    if (powers.length === B.length) break;
    powers.push([x * re - y * im, x * im + y * re]);
  }
  return powers;
}

/**
 * The New Zealand Map Grid, worked at a place in degrees: a polynomial of the latitude, and one of complex numbers.
 *
 * Reference: IOGP-373-7-2, method 9811; the same coefficients as the projection library's.
 */
export function mapGridLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const originDeg = parameterOf(grid, 'latitude of origin');
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const s = ((latitudeDeg - originDeg) * 3600) / UNIT_SECONDS;
  const psi = A.reduceRight((sum, one) => s * (one + sum), 0);
  const turned = degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const powers = powersOf(psi, turned);
  let [up, right] = [0, 0];
  for (const [index, [x, y]] of powers.entries()) {
    const [re, im] = B[index] ?? [0, 0]; // There are as many powers as coefficients.
    up += re * x - im * y;
    right += re * y + im * x;
  }
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + ellipsoid.semiMajorAxisM * right;
  const north = northM + ellipsoid.semiMajorAxisM * up;
  const each = (write: (own: string) => string): string => B.map((_, index) => write(lowered(index + 1))).join(' + ');
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(stated('φ₀', originDeg, INPUT_ANGLE), stated('λ₀', meridianDeg, INPUT_ANGLE), falseOriginText(grid)),
    placeLine(latitudeDeg, longitudeDeg),
    inOne(A.map((one, index) => stated(`A${lowered(index + 1)}`, one, COEFFICIENT))),
    inOne(B.map(([re], index) => stated(`B${lowered(index + 1)}`, re, COEFFICIENT))),
    inOne(B.map(([, im], index) => stated(`C${lowered(index + 1)}`, im, COEFFICIENT))),
    worked('s', '(φ − φ₀) / 100000″', s, NUMBER14),
    worked(
      'x₁',
      `${A.map((_, index) => `s·(A${lowered(index + 1)}`).join(' + ')}${')'.repeat(A.length)}`,
      psi,
      NUMBER14,
    ),
    differenceLine(longitudeDeg, meridianDeg),
    worked('y₁', 'Δλ', turned, NUMBER14),
    ...powers.slice(1).map(([x, y], index) => {
      const [from, to] = [lowered(index + 1), lowered(index + 2)];
      return together(
        worked(`x${to}`, `x₁·x${from} − y₁·y${from}`, x, NUMBER14),
        worked(`y${to}`, `x₁·y${from} + y₁·x${from}`, y, NUMBER14),
      );
    }),
    worked(
      'n',
      each((own) => `B${own}·x${own} − C${own}·y${own}`),
      up,
      NUMBER14,
    ),
    worked(
      'm',
      each((own) => `B${own}·y${own} + C${own}·x${own}`),
      right,
      NUMBER14,
    ),
    worked('E', 'E₀ + a·m', east, LENGTH5),
    worked('N', 'N₀ + a·n', north, LENGTH5),
  ];
  return { lines, eastM: east, northM: north, factors: mapGridFactors(grid, latitudeDeg, { s, powers }) };
}

/**
 * Scales and convergence by the derivatives of both polynomials. The published coefficients do not quite keep angles, so that the scale
 * along the meridian is not that along the parallel in the ninth decimal.
 */
function mapGridFactors(
  grid: GridSystem,
  latitudeDeg: number,
  { s, powers }: { readonly s: number; readonly powers: readonly (readonly [number, number])[] },
): readonly string[] {
  const { ellipsoid } = grid.projection;
  const es = ellipsoid.eccentricitySquared;
  const sin = Math.sin(degreesToRadians(latitudeDeg));
  const m = parallelRadius(degreesToRadians(latitudeDeg), es);
  const r = (1 - es) / Math.sqrt(1 - es * sin * sin) ** 3;
  // Of s by the latitude in radians.
  const perRadian = (DEGREES_PER_RADIAN * 3600) / UNIT_SECONDS;
  const alongs = A.map((one, index) => (index + 1) * one * s ** index);
  const psiSlope = perRadian * alongs.reduce((sum, one) => sum + one, 0);
  const before = [[1, 0] as const, ...powers];
  let [slopeN, slopeE] = [0, 0];
  for (const [index, [re, im]] of B.entries()) {
    const [x, y] = before[index] ?? [0, 0]; // There is one power more than coefficients.
    slopeN += (index + 1) * (re * x - im * y);
    slopeE += (index + 1) * (re * y + im * x);
  }
  const size = Math.hypot(slopeN, slopeE);
  const derivative = (first: 'x' | 'y', second: 'x' | 'y', sign: string): string =>
    B.map((_, index) => {
      const [own, power] = [lowered(index + 1), lowered(index)];
      if (index === 0) return first === 'x' ? `B${own}` : `C${own}`;
      const b = first === 'x' ? `B${own}·x${power}` : `B${own}·y${power}`;
      return `${String(index + 1)}·(${b} ${sign} C${own}·${second}${power})`;
    }).join(' + ');
  return [
    together(
      worked('m_P', parallel('φ', false), m, NUMBER14),
      worked('r', '(1 − e²)·√(1 − e²·sin²φ) / (1 − e²·sin²φ)²', r, NUMBER14),
    ),
    worked(
      'x′',
      `180·3600 / (π·100000)·(${A.map((_, index) => (index === 0 ? 'A₁' : `s·(${String(index + 1)}·A${lowered(index + 1)}`)).join(' + ')}${')'.repeat(A.length - 1)})`,
      psiSlope,
      NUMBER14,
    ),
    worked('F_n', derivative('x', 'y', '−'), slopeN, NUMBER14),
    worked('F_e', derivative('y', 'x', '+'), slopeE, NUMBER14),
    together(
      worked('h', 'x′·√(F_n² + F_e²) / r', (psiSlope * size) / r, factorForms.scale),
      worked('k', '√(F_n² + F_e²) / m_P', size / m, factorForms.scale),
    ),
    worked('γ', '−atan2(F_e, F_n)', -Math.atan2(slopeE, slopeN) * DEGREES_PER_RADIAN, factorForms.convergence),
  ];
}
