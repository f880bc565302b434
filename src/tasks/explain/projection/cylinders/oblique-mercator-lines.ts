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
  NUMBER,
  NUMBER14,
  stated,
  together,
  worked,
} from '../../lines/worked-lines.js';
import {
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

const degrees = (radians: number): number => radians * DEGREES_PER_RADIAN;

/** The cylinder along the central line. */
interface Cylinder {
  readonly b: number;
  readonly radiusM: number;
  readonly d: number;
  readonly lnF: number;
  readonly centreIsometric: number;
  readonly lineAngleRad: number;
  readonly meridianDeg: number;
  /** From where it is counted along the line. */
  readonly alongM: number;
}

function cylinderOf(grid: GridSystem, isAtCentre: boolean): Cylinder {
  const { ellipsoid } = grid.projection;
  const es = ellipsoid.eccentricitySquared;
  const centre = degreesToRadians(parameterOf(grid, 'latitude of origin'));
  const azimuth = degreesToRadians(parameterOf(grid, 'azimuth of the central line'));
  const b = Math.sqrt(1 + (es * Math.cos(centre) ** 4) / (1 - es));
  const radiusM =
    (ellipsoid.semiMajorAxisM * b * parameterOf(grid, 'scale factor at origin') * Math.sqrt(1 - es)) /
    (1 - es * Math.sin(centre) ** 2);
  const d = Math.max(1, (b * Math.sqrt(1 - es)) / (Math.cos(centre) * Math.sqrt(1 - es * Math.sin(centre) ** 2)));
  // √(D² − 1) without taking 1 off what is nearly 1.
  const root = (Math.sin(centre) * Math.sqrt(1 - es)) / (Math.cos(centre) * Math.sqrt(1 - es * Math.sin(centre) ** 2));
  const lnF = Math.asinh(root);
  const lineAngleRad = Math.asin(Math.sin(azimuth) / d);
  const meridianDeg =
    parameterOf(grid, 'longitude of centre') - degrees(Math.asin(Math.sinh(lnF) * Math.tan(lineAngleRad)) / b);
  const alongM = isAtCentre ? ((Math.sign(root) * radiusM) / b) * Math.atan2(Math.abs(root), Math.cos(azimuth)) : 0;
  const centreIsometric = isometricLatitude(centre, eccentricity(ellipsoid));
  return { b, radiusM, d, lnF, centreIsometric, lineAngleRad, meridianDeg, alongM };
}

/**
 * Hotine's oblique Mercator of a line through a centre, worked at a place in degrees; null where the line runs at a right angle.
 *
 * Reference: IOGP-373-7-2, methods 9812 and 9815, with the isometric latitude q = −ln t in the place of t.
 */
export function obliqueMercatorLines(
  grid: GridSystem,
  latitudeDeg: number,
  longitudeDeg: number,
): ProjectedLines | null {
  const { ellipsoid } = grid.projection;
  const [e, es] = [eccentricity(ellipsoid), ellipsoid.eccentricitySquared];
  const spherical = ellipsoid.flattening === 0;
  const centreDeg = parameterOf(grid, 'latitude of origin');
  const azimuthDeg = parameterOf(grid, 'azimuth of the central line');
  // Without one, the grid is turned by the azimuth of the line itself.
  const turnDeg = gridParameter(grid, 'rectified grid angle') ?? azimuthDeg;
  const isAtCentre = grid.definition.proj4?.includes('no_uoff') !== true;
  if (centreDeg === 0 || Math.abs(Math.cos(degreesToRadians(azimuthDeg))) < 1e-9) return null;
  const own = cylinderOf(grid, isAtCentre);
  const { b, radiusM, lnF, lineAngleRad, meridianDeg, alongM } = own;
  const q = isometricLatitude(degreesToRadians(latitudeDeg), e);
  const w = lnF + b * (q - own.centreIsometric);
  const turnedRad = b * degreesToRadians(meridianDifference(longitudeDeg, meridianDeg));
  const v = Math.sin(turnedRad);
  const sine = (Math.sinh(w) * Math.sin(lineAngleRad) - v * Math.cos(lineAngleRad)) / Math.cosh(w);
  const across = (-radiusM / b) * Math.atanh(sine);
  const angle = Math.atan2(Math.sinh(w) * Math.cos(lineAngleRad) + v * Math.sin(lineAngleRad), Math.cos(turnedRad));
  const along = (radiusM / b) * angle - alongM;
  const turn = degreesToRadians(turnDeg);
  const east = falseOrigin(grid).eastM + across * Math.cos(turn) + along * Math.sin(turn);
  const north = falseOrigin(grid).northM + along * Math.cos(turn) - across * Math.sin(turn);
  const lines = [
    ...ellipsoidLines(ellipsoid),
    together(
      stated('φ_c', centreDeg, INPUT_ANGLE),
      stated('λ_c', parameterOf(grid, 'longitude of centre'), INPUT_ANGLE),
      stated('α_c', azimuthDeg, INPUT_ANGLE),
      stated('γ_c', turnDeg, INPUT_ANGLE),
      stated('k_c', parameterOf(grid, 'scale factor at origin'), NUMBER),
      falseOriginText(grid),
    ),
    placeLine(latitudeDeg, longitudeDeg),
    ...cylinderLines(own, centreDeg < 0, isAtCentre, spherical),
    worked('q', isometric('φ', spherical), q, NUMBER14),
    worked('w', 'f + B·(q − q_c)', w, NUMBER14),
    worked('θ', turnFormula(longitudeDeg, meridianDeg), degrees(turnedRad), ANGLE),
    worked('U', '(sinh(w)·sin(γ₀) − sin(θ)·cos(γ₀)) / cosh(w)', sine, NUMBER14),
    worked('v', '−A / B·atanh(U)', across, LENGTH5),
    worked('u', `A / B·atan2(sinh(w)·cos(γ₀) + sin(θ)·sin(γ₀), cos(θ))${isAtCentre ? ' − u_c' : ''}`, along, LENGTH5),
    worked('E', 'E₀ + v·cos(γ_c) + u·sin(γ_c)', east, LENGTH5),
    worked('N', 'N₀ + u·cos(γ_c) − v·sin(γ_c)', north, LENGTH5),
  ];
  const m = parallelRadius(degreesToRadians(latitudeDeg), es);
  const k = (radiusM * Math.abs(Math.cos(angle))) / (ellipsoid.semiMajorAxisM * m * Math.abs(Math.cos(turnedRad)));
  const factors = [
    worked('m', parallel('φ', spherical), m, NUMBER14),
    worked('k', 'A·|cos(atan2(sinh(w)·cos(γ₀) + sin(θ)·sin(γ₀), cos(θ)))| / (a·m·|cos(θ)|)', k, factorForms.scale),
    ...convergenceLines(own, w, turnedRad, turnDeg),
  ];
  return { lines, eastM: east, northM: north, factors };
}

/** Given: the isometric latitude w and the angle θ of the place on the sphere, radians; by what the grid is turned, degrees. */
function convergenceLines(
  { lineAngleRad }: Cylinder,
  w: number,
  turnedRad: number,
  turnDeg: number,
): readonly string[] {
  // From true north to the line's direction u: what u and v gain with w, both times cosh²(w)·(1 − U²).
  const northRad = Math.atan2(
    Math.sin(lineAngleRad) + Math.sin(turnedRad) * Math.sinh(w) * Math.cos(lineAngleRad),
    Math.cos(turnedRad) * Math.cosh(w) * Math.cos(lineAngleRad),
  );
  const beyond = degrees(northRad) - turnDeg;
  const whole = beyond < -180 ? ' + 360°' : beyond >= 180 ? ' − 360°' : '';
  return [
    worked('ψ', 'atan2(sin(γ₀) + sin(θ)·sinh(w)·cos(γ₀), cos(θ)·cosh(w)·cos(γ₀))', degrees(northRad), ANGLE),
    worked('γ', `ψ − γ_c${whole}`, beyond - 360 * Math.sign(beyond) * (whole === '' ? 0 : 1), factorForms.convergence),
  ];
}

function cylinderLines(
  { b, radiusM, d, lnF, centreIsometric, lineAngleRad, meridianDeg, alongM }: Cylinder,
  isSouth: boolean,
  isAtCentre: boolean,
  spherical: boolean,
): readonly string[] {
  const sign = isSouth ? '−' : '';
  const root = spherical ? '' : '·√(1 − e²)';
  const ground = spherical ? '' : ' / (1 − e²·sin²φ_c)';
  return [
    spherical ? 'B = 1' : worked('B', '√(1 + e²·cos⁴φ_c / (1 − e²))', b, NUMBER14),
    worked('A', `a·B·k_c${root}${ground}`, radiusM, LENGTH),
    worked('D', spherical ? '1 / cos φ_c' : 'B·√(1 − e²) / (cos φ_c·√(1 − e²·sin²φ_c))', d, NUMBER14),
    worked('f', `${sign}ln(D + √(D² − 1))`, lnF, NUMBER14),
    worked('γ₀', 'asin(sin(α_c) / D)', degrees(lineAngleRad), ANGLE),
    worked('λ₀', 'λ_c − asin(sinh(f)·tan(γ₀)) / B', meridianDeg, ANGLE),
    worked('q_c', isometric('φ_c', spherical), centreIsometric, NUMBER14),
    ...(isAtCentre ? [worked('u_c', `${sign}A / B·atan2(√(D² − 1), cos(α_c))`, alongM, LENGTH5)] : []),
  ];
}

function turnFormula(longitudeDeg: number, meridianDeg: number): string {
  const turned = longitudeDeg - meridianDeg;
  return Math.abs(turned) <= 180 ? 'B·(λ − λ₀)' : `B·(λ − λ₀ ${turned > 180 ? '−' : '+'} 360°)`;
}
