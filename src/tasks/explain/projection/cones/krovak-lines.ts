import { parseDecimal } from '../../../../core/numeric/text/decimal-text.js';
import { present } from '../../../../records/present.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { DEGREES_PER_RADIAN, degreesToRadians } from '../../../../core/numeric/angle-units.js';
import { parallelRadius } from '../../../../core/projection/methods/conformal-latitude.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import {
  ANGLE,
  INPUT_ANGLE,
  LENGTH,
  LENGTH5,
  NUMBER14,
  inOne,
  lowered,
  stated,
  together,
  worked,
} from '../../lines/worked-lines.js';
import { conformalSphere } from '../planes/conformal-sphere-lines.js';
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
import type { ProjectedLines } from '../grid-lines.js';
import { modifiedKrovakM } from '../../../../core/projection/methods/modified-krovak-polynomial.js';

/** Latitude on the sphere, about the axis of the cone, of the parallel of contact. IOGP-373-7-2, method 9819. */
const CONTACT_DEG = 78.5;
const degrees = (radians: number): number => radians * DEGREES_PER_RADIAN;

/**
 * Krovak's oblique conformal cone, worked at a place in degrees. Reference: IOGP-373-7-2, method 9819, with the isometric latitude in
 * the place of its powers of tangents.
 */
export function krovakLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { cone, r, angle, factors } = onCone(grid, latitudeDeg, longitudeDeg);
  const { eastM, northM } = falseOrigin(grid);
  const east = eastM - r * Math.sin(angle);
  const north = northM - r * Math.cos(angle);
  const lines = [...cone, worked('E', 'E₀ − r·sin(θ)', east, LENGTH5), worked('N', 'N₀ − r·cos(θ)', north, LENGTH5)];
  return { lines, eastM: east, northM: north, factors };
}

/** Of the polynomial of the modified form: C₁ to C₁₀ as the method states them. IOGP-373-7-2, method 1042. */
const COEFFICIENTS = [
  '0.02946529277',
  '0.02515965696',
  '0.0000001193845912',
  '-0.0000004668270147',
  '0.000000000009233980362',
  '0.000000000001523735715',
  '0.000000000000000001696780024',
  '0.000000000000000004408314235',
  '-0.000000000000000000000008331083518',
  '-0.000000000000000000000003689471323',
] as const;

/** Krovak's cone less the polynomial of its modified form, worked at a place in degrees. Reference: IOGP-373-7-2, methods 1042 and 1043. */
export function modifiedKrovakLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { cone, r, angle, factors, scale, convergence } = onCone(grid, latitudeDeg, longitudeDeg);
  const [southM, westM] = [r * Math.cos(angle), r * Math.sin(angle)];
  const [offSouthM, offWestM] = modifiedKrovakM(southM, westM);
  const { eastM, northM } = falseOrigin(grid);
  // The false origin counts west and south.
  const east = offWestM - westM - eastM;
  const north = offSouthM - southM - northM;
  const lines = [
    ...cone,
    inOne(COEFFICIENTS.map((text, index) => `C${lowered(index + 1)} = ${text}`)),
    together(
      worked('X', 'r·cos(θ) − 1089000', southM - MODIFIED_SOUTH_M, LENGTH),
      worked('Y', 'r·sin(θ) − 654000', westM - MODIFIED_WEST_M, LENGTH),
    ),
    worked(
      'δ_S',
      'C₁ + C₃·X − C₄·Y − 2·C₆·X·Y + C₅·(X² − Y²) + C₇·X·(X² − 3·Y²) − C₈·Y·(3·X² − Y²) + 4·C₉·X·Y·(X² − Y²) + C₁₀·(X⁴ + Y⁴ − 6·X²·Y²)',
      offSouthM,
      LENGTH,
    ),
    worked(
      'δ_W',
      'C₂ + C₃·Y + C₄·X + 2·C₅·X·Y + C₆·(X² − Y²) + C₈·X·(X² − 3·Y²) + C₇·Y·(3·X² − Y²) − 4·C₁₀·X·Y·(X² − Y²) + C₉·(X⁴ + Y⁴ − 6·X²·Y²)',
      offWestM,
      LENGTH,
    ),
    worked('E', 'δ_W − r·sin(θ) − E₀', east, LENGTH5),
    worked('N', 'δ_S − r·cos(θ) − N₀', north, LENGTH5),
  ];
  const turned = turnedFactors(southM - MODIFIED_SOUTH_M, westM - MODIFIED_WEST_M, scale, convergence);
  return { lines, eastM: east, northM: north, factors: [...factors, ...turned] };
}

/**
 * What the polynomial does to the scale and convergence of the cone, by its derivatives; along the meridian and along the parallel,
 * since it does not quite keep angles. Given: X and Y, metres; scale and convergence on the cone, the latter in radians.
 */
function turnedFactors(x: number, y: number, scale: number, convergence: number): readonly string[] {
  const [, , c3 = NaN, c4 = NaN, c5 = NaN, c6 = NaN, c7 = NaN, c8 = NaN, c9 = NaN, c10 = NaN] = COEFFICIENTS.map(
    (text) => present(parseDecimal(text), text),
  );
  const [cube, mixed] = [x * x - y * y, x * y];
  const [thirdX, thirdY] = [x ** 3 - 3 * x * y * y, 3 * x * x * y - y ** 3];
  const sx = c3 + 2 * (c5 * x - c6 * y) + 3 * c7 * cube - 6 * c8 * mixed + 4 * (c9 * thirdY + c10 * thirdX);
  const sy = -c4 - 2 * (c6 * x + c5 * y) - 6 * c7 * mixed - 3 * c8 * cube + 4 * (c9 * thirdX - c10 * thirdY);
  const wx = c4 + 2 * (c5 * y + c6 * x) + 3 * c8 * cube + 6 * c7 * mixed - 4 * (c10 * thirdY - c9 * thirdX);
  const wy = c3 + 2 * (c5 * x - c6 * y) - 6 * c8 * mixed + 3 * c7 * cube - 4 * (c10 * thirdX + c9 * thirdY);
  const [cos, sin] = [Math.cos(convergence), Math.sin(convergence)];
  const [northN, northE] = [(1 - sx) * cos + sy * sin, -((1 - wy) * sin) - wx * cos];
  const [eastN, eastE] = [(1 - sx) * sin - sy * cos, (1 - wy) * cos - wx * sin];
  return [
    worked(
      'S_X',
      'C₃ + 2·(C₅·X − C₆·Y) + 3·C₇·(X² − Y²) − 6·C₈·X·Y + 4·(C₉·(3·X²·Y − Y³) + C₁₀·(X³ − 3·X·Y²))',
      sx,
      NUMBER14,
    ),
    worked(
      'S_Y',
      '−C₄ − 2·(C₆·X + C₅·Y) − 6·C₇·X·Y − 3·C₈·(X² − Y²) + 4·(C₉·(X³ − 3·X·Y²) − C₁₀·(3·X²·Y − Y³))',
      sy,
      NUMBER14,
    ),
    worked(
      'W_X',
      'C₄ + 2·(C₅·Y + C₆·X) + 3·C₈·(X² − Y²) + 6·C₇·X·Y − 4·(C₁₀·(3·X²·Y − Y³) − C₉·(X³ − 3·X·Y²))',
      wx,
      NUMBER14,
    ),
    worked(
      'W_Y',
      'C₃ + 2·(C₅·X − C₆·Y) − 6·C₈·X·Y + 3·C₇·(X² − Y²) − 4·(C₁₀·(X³ − 3·X·Y²) + C₉·(3·X²·Y − Y³))',
      wy,
      NUMBER14,
    ),
    together(
      worked('n_N', '(1 − S_X)·cos(γ) + S_Y·sin(γ)', northN, NUMBER14),
      worked('n_E', '−(1 − W_Y)·sin(γ) − W_X·cos(γ)', northE, NUMBER14),
    ),
    together(
      worked('e_N', '(1 − S_X)·sin(γ) − S_Y·cos(γ)', eastN, NUMBER14),
      worked('e_E', '(1 − W_Y)·cos(γ) − W_X·sin(γ)', eastE, NUMBER14),
    ),
    together(
      worked('h_φ', 'k·√(n_N² + n_E²)', scale * Math.hypot(northN, northE), factorForms.scale),
      worked('k_λ', 'k·√(e_N² + e_E²)', scale * Math.hypot(eastN, eastE), factorForms.scale),
    ),
    worked('γ_M', 'atan2(−n_E, n_N)', degrees(Math.atan2(-northE, northN)), factorForms.convergence),
  ];
}

/** Where the polynomial of the modified form counts from, metres south and west. IOGP-373-7-2, method 1042. */
const MODIFIED_SOUTH_M = 1089000;
const MODIFIED_WEST_M = 654000;

/** A place on the cone: the lines to its radius, metres, and to its angle, radians, and those of the factors. */
function onCone(
  grid: GridSystem,
  latitudeDeg: number,
  longitudeDeg: number,
): {
  readonly cone: readonly string[];
  readonly r: number;
  readonly angle: number;
  readonly factors: readonly string[];
  readonly scale: number;
  readonly convergence: number;
} {
  const { ellipsoid } = grid.projection;
  const own = conformalSphere(ellipsoid, parameterOf(grid, 'latitude of origin'), latitudeDeg, {
    ratio: 'B',
    latitude: 'U',
  });
  const { radiusM: sphereM, ratio, latitudeRad: u } = own;
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const axisDeg = parameterOf(grid, 'azimuth of the central line');
  const axis = degreesToRadians(axisDeg);
  const contact = degreesToRadians(CONTACT_DEG);
  const v = -ratio * degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const t = Math.asin(Math.cos(axis) * Math.sin(u) + Math.sin(axis) * Math.cos(u) * Math.cos(v));
  const d = Math.atan2(
    Math.cos(u) * Math.sin(v),
    Math.cos(axis) * Math.cos(u) * Math.cos(v) - Math.sin(axis) * Math.sin(u),
  );
  const n = Math.sin(contact);
  const r0 = (parameterOf(grid, 'scale factor at origin') * sphereM) / Math.tan(contact);
  const r = r0 * Math.exp(n * (Math.atanh(n) - Math.atanh(Math.sin(t))));
  // Of the axis of the cone, at the place, from the north of the sphere; on the map the axis lies in the direction θ.
  const axisAway = Math.atan2(
    Math.sin(axis) * Math.sin(v),
    Math.cos(axis) * Math.cos(u) - Math.sin(axis) * Math.sin(u) * Math.cos(v),
  );
  const cone = [
    ...ellipsoidLines(ellipsoid),
    originLine(grid),
    together(stated('α_c', axisDeg, INPUT_ANGLE), stated('φ_P', CONTACT_DEG, INPUT_ANGLE)),
    placeLine(latitudeDeg, longitudeDeg),
    ...own.sphere,
    ...own.place,
    differenceLine(longitudeDeg, meridianDeg),
    worked('V', '−B·Δλ', degrees(v), ANGLE),
    worked('T', 'asin(cos(α_c)·sin(U) + sin(α_c)·cos(U)·cos(V))', degrees(t), ANGLE),
    worked('D', 'atan2(cos(U)·sin(V), cos(α_c)·cos(U)·cos(V) − sin(α_c)·sin(U))', degrees(d), ANGLE),
    worked('n', 'sin(φ_P)', n, NUMBER14),
    worked('r₀', 'k₀·R / tan(φ_P)', r0, LENGTH),
    worked('θ', 'n·D', degrees(n * d), ANGLE),
    worked('r', 'r₀·exp(n·(atanh(n) − atanh(sin(T))))', r, LENGTH),
  ];
  const coneM = n * r * ratio * (Math.cos(u) / Math.cos(t));
  return { cone, r, angle: n * d, ...coneFactors(grid, latitudeDeg, coneM, axisAway, n * d) };
}

/** Scale and convergence of the cone, worked. Given: its scale times the radius of the parallel, metres; the bearing of its axis at the place and on the map, radians. */
function coneFactors(
  grid: GridSystem,
  latitudeDeg: number,
  coneM: number,
  axisAway: number,
  angle: number,
): { readonly factors: readonly string[]; readonly scale: number; readonly convergence: number } {
  const { semiMajorAxisM, eccentricitySquared } = grid.projection.ellipsoid;
  return {
    scale: coneM / (semiMajorAxisM * parallelRadius(degreesToRadians(latitudeDeg), eccentricitySquared)),
    convergence: axisAway - angle,
    factors: [
      ...scaleLines(grid, latitudeDeg, coneM),
      worked('ψ', 'atan2(sin(α_c)·sin(V), cos(α_c)·cos(U) − sin(α_c)·sin(U)·cos(V))', degrees(axisAway), ANGLE),
      worked('γ', 'ψ − θ', degrees(axisAway - angle), factorForms.convergence),
    ],
  };
}

/** The scale from that of the cone, metres, times that of the sphere. */
function scaleLines(grid: GridSystem, latitudeDeg: number, coneM: number): readonly string[] {
  const { ellipsoid } = grid.projection;
  const m = parallelRadius(degreesToRadians(latitudeDeg), ellipsoid.eccentricitySquared);
  return [
    worked('m', parallel('φ', ellipsoid.flattening === 0), m, NUMBER14),
    worked('k', 'n·r·B·cos(U) / (a·m·cos(T))', coneM / (ellipsoid.semiMajorAxisM * m), factorForms.scale),
  ];
}
