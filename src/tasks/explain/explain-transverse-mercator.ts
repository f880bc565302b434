import { signsOf } from '../../core/grid/systems/grid-axes.js';
import { falseEastingM, gridParameter } from '../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import { degreesToRadians, DEGREES_PER_RADIAN } from '../../core/numeric/angle-units.js';
import { kruegerWorking } from '../../core/projection/methods/krueger-working.js';
import type { KruegerWorking } from '../../core/projection/methods/krueger-working.js';
import { present } from '../../records/present.js';
import { ellipsoidLines } from './explain-geodetic.js';
import {
  ANGLE,
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  NUMBER,
  SMALL_NUMBER,
  inForm,
  stated,
  together,
  withDecimals,
  worked,
} from './worked-lines.js';

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

/** Whether the series of a grid is printed: that of a transverse Mercator whose factors are the series' own. */
export function hasSeries(grid: GridSystem): boolean {
  return ['tmerc', 'utm'].includes(grid.projection.key) && grid.projection.conformal;
}

/** Given: a place in degrees. Returned: the lines of the projection, coefficient by coefficient and term by term. */
export function transverseMercatorLines(
  grid: GridSystem,
  latitudeDeg: number,
  longitudeDeg: number,
): readonly string[] {
  const { ellipsoid } = grid.projection;
  const parameter = (name: string): number => present(gridParameter(grid, name), name);
  const [originDeg, meridianDeg] = [parameter('latitude of origin'), parameter('longitude of origin')];
  const turned = longitudeDeg - meridianDeg;
  const differenceDeg = turned > 180 ? turned - 360 : turned < -180 ? turned + 360 : turned;
  const working = kruegerWorking(ellipsoid, degreesToRadians(latitudeDeg), degreesToRadians(differenceDeg));
  const atOrigin = kruegerWorking(ellipsoid, degreesToRadians(originDeg), 0);
  const spherical = ellipsoid.flattening === 0;
  return [
    ...ellipsoidLines(ellipsoid),
    together(
      stated('φ₀', originDeg, INPUT_ANGLE),
      stated('λ₀', meridianDeg, INPUT_ANGLE),
      stated('k₀', parameter('scale factor at origin'), NUMBER),
      stated('E₀', present(falseEastingM(grid), 'false easting'), withDecimals(INPUT, 10)),
      stated('N₀', parameter('false northing'), withDecimals(INPUT, 10)),
    ),
    together(stated('φ', latitudeDeg, INPUT_ANGLE, 9), stated('λ', longitudeDeg, INPUT_ANGLE, 9)),
    spherical ? 'n = 0' : worked('n', '1 / (2·F − 1)', working.thirdFlattening, withDecimals(NUMBER, 16)),
    worked('A', 'a / (1 + n)·(1 + n² / 4 + n⁴ / 64 + n⁶ / 256)', working.rectifyingRadiusM, LENGTH),
    ...working.terms.map(({ alpha }, at) =>
      worked(
        `α${present(SUBSCRIPTS[at], 'order')}`,
        present(ALPHAS[at], 'order'),
        alpha,
        withDecimals(NUMBER, present(ALPHA_DECIMALS[at], 'order')),
      ),
    ),
    worked('Δλ', turned === differenceDeg ? 'λ − λ₀' : `λ − λ₀ ${turned > 180 ? '−' : '+'} 360°`, differenceDeg, ANGLE),
    worked('T', conformal('φ', spherical), working.conformalTangent, NUMBER),
    worked('ξ′', 'atan2(T, cos Δλ)', working.xiPrime, NUMBER),
    worked('η′', 'asinh(sin Δλ / √(T² + cos²Δλ))', working.etaPrime, NUMBER),
    ...termLines(working),
    worked('ξ', `ξ′ + ${sumOf('ξ')}`, working.xi, NUMBER),
    worked('η', `η′ + ${sumOf('η')}`, working.eta, NUMBER),
    ...originLines(originDeg, atOrigin, spherical),
    ...resultLines(grid, working, atOrigin),
    ...factorLines(grid, working, latitudeDeg, differenceDeg),
  ];
}

const conformal = (latitude: string, spherical: boolean): string =>
  spherical ? `tan ${latitude}` : `sinh(atanh(sin ${latitude}) − e·atanh(e·sin ${latitude}))`;

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
    worked(
      'ξ₀',
      `ω + ${SUBSCRIPTS.map((at, index) => `α${at}·sin(${String(2 * (index + 1))}·ω)`).join(' + ')}`,
      atOrigin.xi,
      NUMBER,
    ),
  ];
}

function resultLines(grid: GridSystem, working: KruegerWorking, atOrigin: KruegerWorking): readonly string[] {
  const parameter = (name: string): number => present(gridParameter(grid, name), name);
  const radiusM = parameter('scale factor at origin') * working.rectifyingRadiusM;
  const eastM = present(falseEastingM(grid), 'false easting') + radiusM * working.eta;
  const northM = parameter('false northing') + radiusM * (working.xi - atOrigin.xi);
  const [first, second] = grid.axes;
  const [eastSign, northSign] = signsOf(grid.axes);
  const minus = (sign: 1 | -1): string => (sign < 0 ? '−' : '');
  const per = first.metresPerUnit === 1 ? '' : ' / u';
  return [
    worked('E', 'E₀ + k₀·A·η', eastM, LENGTH),
    worked('N', 'N₀ + k₀·A·(ξ − ξ₀)', northM, LENGTH),
    ...(per === '' ? [] : [`${stated('u', first.metresPerUnit, withDecimals(LENGTH, 16))} (one ${first.unitName})`]),
    `${first.columnName} = ${minus(eastSign)}E${per} = ${inForm((eastSign * eastM) / first.metresPerUnit, withDecimals(NUMBER, 4))}`,
    `${second.columnName} = ${minus(northSign)}N${per} = ${inForm((northSign * northM) / second.metresPerUnit, withDecimals(NUMBER, 4))}`,
  ];
}

function factorLines(
  grid: GridSystem,
  { terms, p, q, conformalTangent, rectifyingRadiusM }: KruegerWorking,
  latitudeDeg: number,
  differenceDeg: number,
): readonly string[] {
  const { ellipsoid, parameters } = grid.projection;
  const series = (name: string, shape: string): string =>
    terms
      .map(
        ({ order }, at) =>
          `${String(2 * order)}·α${present(SUBSCRIPTS[at], name)}·${shape.replaceAll('#', String(2 * order))}`,
      )
      .join(' + ');
  const [phi, difference] = [degreesToRadians(latitudeDeg), degreesToRadians(differenceDeg)];
  const sin = Math.sin(phi);
  const k0 = present(parameters.find(({ name }) => name === 'scale factor at origin')?.value, 'scale');
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
    worked('k', `k₀·A / a·√((P² + Q²)${es} / (T² + cos²Δλ)) / cos φ`, k, withDecimals(NUMBER, 9)),
    worked('γ', 'atan2(T·tan Δλ, √(1 + T²)) + atan2(Q, P)', gamma * DEGREES_PER_RADIAN, withDecimals(ANGLE, 6)),
  ];
}
