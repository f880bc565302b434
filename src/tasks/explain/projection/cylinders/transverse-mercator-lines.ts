import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { degreesToRadians, DEGREES_PER_RADIAN } from '../../../../core/numeric/angle-units.js';
import { kruegerWorking } from '../../../../core/projection/methods/krueger-working.js';
import type { KruegerWorking } from '../../../../core/projection/methods/krueger-working.js';
import { present } from '../../../../records/present.js';
import { ellipsoidLines } from '../../position/explain-geodetic.js';
import {
  conformal,
  differenceLine,
  factorForms,
  falseOrigin,
  meridianDifference,
  originLine,
  parameterOf,
  placeLine,
} from '../grid-lines.js';
import type { ProjectedLines } from '../grid-lines.js';
import { LENGTH, NUMBER, SMALL_NUMBER, together, withDecimals, worked } from '../../lines/worked-lines.js';

const SUBSCRIPTS = ['₁', '₂', '₃', '₄', '₅', '₆'] as const;
/** The coefficients in powers of n; KARNEY-2011, equation 35. */
const ALPHAS = [
  'n / 2 − 2 / 3·n² + 5 / 16·n³ + 41 / 180·n⁴ − 127 / 288·n⁵ + 7891 / 37800·n⁶',
  '13 / 48·n² − 3 / 5·n³ + 557 / 1440·n⁴ + 281 / 630·n⁵ − 1983433 / 1935360·n⁶',
  '61 / 240·n³ − 103 / 140·n⁴ + 15061 / 26880·n⁵ + 167603 / 181440·n⁶',
  '49561 / 161280·n⁴ − 179 / 168·n⁵ + 6601661 / 7257600·n⁶',
  '34729 / 80640·n⁵ − 3418889 / 1995840·n⁶',
  '212378941 / 319334400·n⁶',
] as const;
/** Enough of each for the last digits of the pair. */
const ALPHA_DECIMALS = [16, 18, 20, 20, 20, 20] as const;
const sumOf = (letter: string): string => SUBSCRIPTS.map((at) => `${letter}${at}`).join(' + ');

/** Given: a place in degrees. Returned: the lines of the projection, coefficient by coefficient and term by term. */
export function transverseMercatorLines(grid: GridSystem, latitudeDeg: number, longitudeDeg: number): ProjectedLines {
  const { ellipsoid } = grid.projection;
  const originDeg = parameterOf(grid, 'latitude of origin');
  const meridianDeg = parameterOf(grid, 'longitude of origin');
  const differenceDeg = meridianDifference(longitudeDeg, meridianDeg);
  const working = kruegerWorking(ellipsoid, degreesToRadians(latitudeDeg), degreesToRadians(differenceDeg));
  const atOrigin = kruegerWorking(ellipsoid, degreesToRadians(originDeg), 0);
  const spherical = ellipsoid.flattening === 0;
  const radiusM = parameterOf(grid, 'scale factor at origin') * working.rectifyingRadiusM;
  const eastM = falseOrigin(grid).eastM + radiusM * working.eta;
  const northM = falseOrigin(grid).northM + radiusM * (working.xi - atOrigin.xi);
  const lines = [
    ...ellipsoidLines(ellipsoid),
    originLine(grid),
    placeLine(latitudeDeg, longitudeDeg),
    ...coefficientLines(working, spherical, 'A'),
    differenceLine(longitudeDeg, meridianDeg),
    worked('T', conformal('φ', spherical), working.conformalTangent, NUMBER),
    worked('ξ′', 'atan2(T, cos Δλ)', working.xiPrime, NUMBER),
    worked('η′', 'asinh(sin Δλ / √(T² + cos²Δλ))', working.etaPrime, NUMBER),
    ...termLines(working),
    worked('ξ', `ξ′ + ${sumOf('ξ')}`, working.xi, NUMBER),
    worked('η', `η′ + ${sumOf('η')}`, working.eta, NUMBER),
    ...originLines(originDeg, atOrigin, spherical),
    worked('E', 'E₀ + k₀·A·η', eastM, LENGTH),
    worked('N', 'N₀ + k₀·A·(ξ − ξ₀)', northM, LENGTH),
  ];
  return { lines, eastM, northM, factors: factorLines(grid, working, latitudeDeg, differenceDeg) };
}

/** Third flattening, rectifying radius and the coefficients of the series. */
export function coefficientLines(
  { thirdFlattening, rectifyingRadiusM, terms }: KruegerWorking,
  spherical: boolean,
  radius = 'M_R',
): readonly string[] {
  return [
    spherical ? 'n = 0' : worked('n', '1 / (2·F − 1)', thirdFlattening, withDecimals(NUMBER, 16)),
    worked(radius, 'a / (1 + n)·(1 + n² / 4 + n⁴ / 64 + n⁶ / 256)', rectifyingRadiusM, LENGTH),
    ...terms.map(({ alpha }, at) =>
      worked(
        `α${present(SUBSCRIPTS[at], 'order')}`,
        present(ALPHAS[at], 'order'),
        alpha,
        withDecimals(NUMBER, present(ALPHA_DECIMALS[at], 'order')),
      ),
    ),
  ];
}

/** The rectifying latitude of a conformal latitude of a name, as a formula. */
export const arcFormula = (name: string): string =>
  `${name} + ${SUBSCRIPTS.map((at, index) => `α${at}·sin(${String(2 * (index + 1))}·${name})`).join(' + ')}`;

function termLines({ terms }: KruegerWorking): readonly string[] {
  return terms.map(({ order, north, east }, index) => {
    const at = present(SUBSCRIPTS[index], 'order');
    const twice = String(2 * order);
    return together(
      worked(`ξ${at}`, `α${at}·sin(${twice}·ξ′)·cosh(${twice}·η′)`, north, SMALL_NUMBER),
      worked(`η${at}`, `α${at}·cos(${twice}·ξ′)·sinh(${twice}·η′)`, east, SMALL_NUMBER),
    );
  });
}

/** The same at the origin of the grid, on the central meridian; nothing where that is on the equator. */
function originLines(originDeg: number, atOrigin: KruegerWorking, spherical: boolean): readonly string[] {
  if (originDeg === 0) return ['ξ₀ = 0'];
  return [
    worked('ω', `atan(${conformal('φ₀', spherical)})`, atOrigin.xiPrime, NUMBER),
    worked('ξ₀', arcFormula('ω'), atOrigin.xi, NUMBER),
  ];
}

function factorLines(
  grid: GridSystem,
  { terms, p, q, conformalTangent, rectifyingRadiusM }: KruegerWorking,
  latitudeDeg: number,
  differenceDeg: number,
): readonly string[] {
  const { ellipsoid } = grid.projection;
  const series = (name: string, shape: string): string =>
    terms
      .map(
        ({ order }, at) =>
          `${String(2 * order)}·α${present(SUBSCRIPTS[at], name)}·${shape.replaceAll('#', String(2 * order))}`,
      )
      .join(' + ');
  const [phi, difference] = [degreesToRadians(latitudeDeg), degreesToRadians(differenceDeg)];
  const sin = Math.sin(phi);
  const k0 = parameterOf(grid, 'scale factor at origin');
  const k =
    (((k0 * rectifyingRadiusM) / ellipsoid.semiMajorAxisM) *
      Math.sqrt(
        ((p * p + q * q) * (1 - ellipsoid.eccentricitySquared * sin * sin)) /
          (conformalTangent ** 2 + Math.cos(difference) ** 2),
      )) /
    Math.cos(phi);
  const gamma =
    Math.atan2(conformalTangent * Math.tan(difference), Math.sqrt(1 + conformalTangent ** 2)) + Math.atan2(q, p);
  const es = ellipsoid.flattening === 0 ? '' : '·(1 − e²·sin²φ)';
  return [
    worked('P', `1 + ${series('P', 'cos(#·ξ′)·cosh(#·η′)')}`, p, NUMBER),
    worked('Q', series('Q', 'sin(#·ξ′)·sinh(#·η′)'), q, SMALL_NUMBER),
    worked('k', `k₀·A / a·√((P² + Q²)${es} / (T² + cos²Δλ)) / cos φ`, k, factorForms.scale),
    worked('γ', 'atan2(T·tan Δλ, √(1 + T²)) + atan2(Q, P)', gamma * DEGREES_PER_RADIAN, factorForms.convergence),
  ];
}
