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
  originLine,
  parallel,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';

/**
 * The stereographic map of a pole, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, methods 9810 and 9829, with the isometric latitude q = −ln t in the place of t.
 */
export function polarStereographicLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const [e, es, a] = [eccentricity(ellipsoid), ellipsoid.eccentricitySquared, ellipsoid.semiMajorAxisM];
  const pole = parameterOf(grid, 'latitude of origin') > 0 ? 1 : -1;
  const trueDeg = gridParameter(grid, 'latitude of true scale');
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const scale = gridParameter(grid, 'scale factor at origin') ?? 1;
  const q = (deg: number): number => isometricLatitude(degreesToRadians(deg), e);
  const m = (deg: number): number => parallelRadius(degreesToRadians(deg), es);
  const constantM =
    trueDeg === null
      ? 2 * a * scale * Math.exp(-((1 + e) * Math.log1p(e) + (1 - e) * Math.log1p(-e)) / 2)
      : a * m(trueDeg) * Math.exp(pole * q(trueDeg));
  const radiusM = constantM * Math.exp(-pole * q(latitudeDeg));
  const differenceDeg = meridianDifference(longitudeDeg, meridianDeg);
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM + radiusM * Math.sin(degreesToRadians(differenceDeg));
  const north = northM - pole * radiusM * Math.cos(degreesToRadians(differenceDeg));
  const away = pole > 0 ? '−q' : 'q';
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(
      stated('λ₀', meridianDeg, INPUT_ANGLE),
      trueDeg === null ? stated('k₀', scale, NUMBER) : stated('φ_F', trueDeg, INPUT_ANGLE),
      falseOriginText(grid),
    ),
    placeLine(latitudeDeg, longitudeDeg),
    ...(trueDeg === null
      ? [
          worked(
            'c',
            spherical ? '2·a·k₀' : '2·a·k₀·exp(−((1 + e)·ln(1 + e) + (1 − e)·ln(1 − e)) / 2)',
            constantM,
            METRES,
          ),
        ]
      : [
          together(
            worked('q_F', isometric('φ_F', spherical), q(trueDeg), NUMBER14),
            worked('m_F', parallel('φ_F', spherical), m(trueDeg), NUMBER14),
          ),
          worked('c', `a·m_F·exp(${pole > 0 ? 'q_F' : '−q_F'})`, constantM, METRES),
        ]),
    together(
      worked('q', isometric('φ', spherical), q(latitudeDeg), NUMBER14),
      worked('r', `c·exp(${away})`, radiusM, METRES),
    ),
    differenceLine(longitudeDeg, meridianDeg),
    worked('E', 'E₀ + r·sin Δλ', east, LENGTH5),
    worked('N', `N₀ ${pole > 0 ? '−' : '+'} r·cos Δλ`, north, LENGTH5),
  ];
  const factors = [
    worked('m', parallel('φ', spherical), m(latitudeDeg), NUMBER14),
    worked('k', 'r / (a·m)', radiusM / (a * m(latitudeDeg)), factorForms.scale),
    worked('γ', pole > 0 ? 'Δλ' : '−Δλ', pole * differenceDeg, factorForms.convergence),
  ];
  return { lines, eastM: east, northM: north, factors };
}

/**
 * The stereographic map of a conformal sphere about any other place, worked at a place in degrees.
 *
 * Reference: IOGP-373-7-2, method 9809, with q in the place of its S₁, S₂: S₁ S₂ᵉ = exp(2 q).
 */
export function obliqueStereographicLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const spherical = ellipsoid.flattening === 0;
  const [e, es, a] = [eccentricity(ellipsoid), ellipsoid.eccentricitySquared, ellipsoid.semiMajorAxisM];
  const originDeg = parameterOf(grid, 'latitude of origin');
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const scale = parameterOf(grid, 'scale factor at origin');
  const [sin0, cos0] = [Math.sin(degreesToRadians(originDeg)), Math.cos(degreesToRadians(originDeg))];
  const q = (deg: number): number => isometricLatitude(degreesToRadians(deg), e);
  const radiusM = (a * Math.sqrt(1 - es)) / (1 - es * sin0 * sin0);
  const n = Math.sqrt(1 + (es * cos0 ** 4) / (1 - es));
  const first = Math.exp(2 * n * q(originDeg));
  const sinFirst = (first - 1) / (first + 1);
  const c = ((n + sin0) * (1 - sinFirst)) / ((n - sin0) * (1 + sinFirst));
  const onSphere = (deg: number): number => Math.asin(Math.tanh(n * q(deg) + Math.log(c) / 2));
  const [chi0, chi] = [onSphere(originDeg), onSphere(latitudeDeg)];
  const turned = n * degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const b = 1 + Math.sin(chi) * Math.sin(chi0) + Math.cos(chi) * Math.cos(chi0) * Math.cos(turned);
  const { eastM, northM } = falseOrigin(grid);
  const unitM = (2 * radiusM * scale) / b;
  const east = eastM + unitM * Math.cos(chi) * Math.sin(turned);
  const north = northM + unitM * (Math.sin(chi) * Math.cos(chi0) - Math.cos(chi) * Math.sin(chi0) * Math.cos(turned));
  const sphere = (name: string, at: string, deg: number): string =>
    together(
      worked(`q${at}`, isometric(`φ${at}`, spherical), q(deg), NUMBER14),
      worked(
        name,
        `asin((c·exp(2·n·q${at}) − 1) / (c·exp(2·n·q${at}) + 1))`,
        onSphere(deg) * DEGREES_PER_RADIAN,
        ANGLE,
      ),
    );
  const lines = [
    ...ellipsoidLines(ellipsoid),
    originLine(grid),
    placeLine(latitudeDeg, longitudeDeg),
    together(
      worked('R', spherical ? 'a' : 'a·√(1 − e²) / (1 − e²·sin²φ₀)', radiusM, LENGTH),
      spherical ? 'n = 1' : worked('n', '√(1 + e²·cos⁴φ₀ / (1 − e²))', n, NUMBER14),
    ),
    worked('S', `exp(2·n·(${isometric('φ₀', spherical)}))`, first, withDecimals(NUMBER, 11)),
    worked('s', '(S − 1) / (S + 1)', sinFirst, NUMBER14),
    worked('c', '(n + sin φ₀)·(1 − s) / ((n − sin φ₀)·(1 + s))', c, NUMBER),
    sphere('χ₀', '₀', originDeg),
    sphere('χ', '', latitudeDeg),
    differenceLine(longitudeDeg, meridianDeg),
    worked('Λ', 'n·Δλ', turned * DEGREES_PER_RADIAN, ANGLE),
    worked('B', '1 + sin χ·sin χ₀ + cos χ·cos χ₀·cos Λ', b, NUMBER),
    worked('E', 'E₀ + 2·R·k₀·cos χ·sin Λ / B', east, LENGTH5),
    worked('N', 'N₀ + 2·R·k₀·(sin χ·cos χ₀ − cos χ·sin χ₀·cos Λ) / B', north, LENGTH5),
  ];
  const m = parallelRadius(degreesToRadians(latitudeDeg), es);
  const k = (2 * scale * n * radiusM * Math.cos(chi)) / (b * a * m);
  const factors = [
    worked('m', parallel('φ', spherical), m, NUMBER14),
    worked('k', '2·k₀·n·R·cos χ / (B·a·m)', k, factorForms.scale),
    convergenceLine(chi0, chi, turned),
  ];
  return { lines, eastM: east, northM: north, factors };
}

/** Given: latitudes of origin and place on the sphere, and the longitude between, radians. */
function convergenceLine(chi0: number, chi: number, turned: number): string {
  const gamma = Math.atan2(
    (Math.sin(chi) + Math.sin(chi0)) * Math.sin(turned),
    Math.cos(chi) * Math.cos(chi0) + (1 + Math.sin(chi) * Math.sin(chi0)) * Math.cos(turned),
  );
  const formula = 'atan2((sin χ + sin χ₀)·sin Λ, cos χ·cos χ₀ + (1 + sin χ·sin χ₀)·cos Λ)';
  return worked('γ', formula, gamma * DEGREES_PER_RADIAN, factorForms.convergence);
}
