import { gridParameter } from '../../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { degreesToRadians } from '../../../../core/numeric/angle-units.js';
import {
  eccentricity,
  isometricLatitude,
  parallelRadius,
} from '../../../../core/projection/methods/conformal-latitude.js';
import { coneConstant } from '../../../../core/projection/methods/lambert-conic.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import {
  ANGLE,
  INPUT_ANGLE,
  LENGTH,
  METRES,
  NUMBER,
  NUMBER14,
  stated,
  together,
  withDecimals,
  worked,
} from '../../lines/worked-lines.js';
import {
  differenceLine,
  factorForms,
  falseOrigin,
  falseOriginText,
  isometric,
  meridianDifference,
  parallel,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

/** The turn of the Belgian form. IOGP-373-7-2, method 9803. */
const BELGIAN_TURN_SECONDS = 29.2985;

/**
 * Lambert's conformal cone, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, methods 9801, 9802, 9803 and 1051; SNYDER-1395, equations 15-1 to 15-11, with the isometric latitude
 * q = −ln t in the place of t.
 */
export function lambertConicLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const [e, es] = [eccentricity(ellipsoid), ellipsoid.eccentricitySquared];
  const originDeg = gridParameter(grid, 'latitude of origin');
  const firstDeg = gridParameter(grid, 'first standard parallel') ?? parameterOf(grid, 'latitude of origin');
  const ownSecond = gridParameter(grid, 'second standard parallel');
  const secondDeg = ownSecond === firstDeg ? null : ownSecond;
  const zeroDeg = originDeg ?? firstDeg;
  const scale = gridParameter(grid, 'scale factor at origin') ?? 1;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const q = (deg: number): number => isometricLatitude(degreesToRadians(deg), e);
  const m = (deg: number): number => parallelRadius(degreesToRadians(deg), es);
  const cone = coneConstant(degreesToRadians(firstDeg), degreesToRadians(secondDeg ?? firstDeg), e);
  const radius = (deg: number): number =>
    ((ellipsoid.semiMajorAxisM * scale * m(firstDeg)) / cone) * Math.exp(cone * (q(firstDeg) - q(deg)));
  const isBelgian = grid.projection.method.endsWith('(2SP Belgium)');
  const turnDeg = isBelgian ? BELGIAN_TURN_SECONDS / 3600 : 0;
  const angleDeg = cone * meridianDifference(longitudeDeg, meridianDeg) - turnDeg;
  const angle = degreesToRadians(angleDeg);
  // The pole is the tip of the cone.
  const isApex = Math.abs(zeroDeg) === 90;
  const originRadiusM = isApex ? 0 : radius(zeroDeg);
  const { eastM, northM } = falseOrigin(grid);
  const [east, north] = [
    eastM + radius(latitudeDeg) * Math.sin(angle),
    northM + originRadiusM - radius(latitudeDeg) * Math.cos(angle),
  ];
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(
      stated('φ₀', zeroDeg, INPUT_ANGLE),
      stated('λ₀', meridianDeg, INPUT_ANGLE),
      stated('φ₁', firstDeg, INPUT_ANGLE),
      ...(secondDeg === null ? [] : [stated('φ₂', secondDeg, INPUT_ANGLE)]),
      stated('k₀', scale, NUMBER),
      falseOriginText(grid),
    ),
    placeLine(latitudeDeg, longitudeDeg),
    ...[firstDeg, ...(secondDeg === null ? [] : [secondDeg])].map((deg, at) =>
      parallelLine(at === 0 ? '₁' : '₂', spherical, q(deg), m(deg)),
    ),
    worked('n', secondDeg === null ? 'sin φ₁' : '(ln(m₁) − ln(m₂)) / (q₂ − q₁)', cone, NUMBER14),
    isApex
      ? 'r₀ = 0 m'
      : together(
          worked('q₀', isometric('φ₀', spherical), q(zeroDeg), NUMBER14),
          worked('r₀', 'a·k₀·m₁ / n·exp(n·(q₁ − q₀))', originRadiusM, METRES),
        ),
    together(
      worked('q', isometric('φ', spherical), q(latitudeDeg), NUMBER14),
      worked('r', 'a·k₀·m₁ / n·exp(n·(q₁ − q))', radius(latitudeDeg), METRES),
    ),
    differenceLine(longitudeDeg, meridianDeg),
    worked('θ', isBelgian ? `n·Δλ − ${String(BELGIAN_TURN_SECONDS)}″` : 'n·Δλ', angleDeg, ANGLE),
    worked('E', 'E₀ + r·sin θ', east, withDecimals(LENGTH, 5)),
    worked('N', 'N₀ + r₀ − r·cos θ', north, withDecimals(LENGTH, 5)),
  ];
  const factors = factorLines(grid, m(latitudeDeg), radius(latitudeDeg) * cone, angleDeg);
  return { lines, eastM: east, northM: north, factors };
}

/** The isometric latitude of a standard parallel and its radius over a, of the name `own`. */
const parallelLine = (own: string, spherical: boolean, q: number, m: number): string =>
  together(
    worked(`q${own}`, isometric(`φ${own}`, spherical), q, NUMBER14),
    worked(`m${own}`, parallel(`φ${own}`, spherical), m, NUMBER14),
  );

/** Given: m of the place; r n, metres; the angle at the apex, degrees. */
function factorLines(
  { projection: { ellipsoid } }: GridSystem,
  m: number,
  rn: number,
  angleDeg: number,
): readonly string[] {
  return [
    worked('m', parallel('φ', ellipsoid.flattening === 0), m, NUMBER14),
    worked('k', 'r·n / (a·m)', rn / (ellipsoid.semiMajorAxisM * m), factorForms.scale),
    worked('γ', 'θ', angleDeg, factorForms.convergence),
  ];
}
