import { signsOf } from '../../../core/grid/systems/grid-axes.js';
import { falseEastingM, gridParameter } from '../../../core/grid/systems/grid-parameter.js';
import type { GridSystem } from '../../../core/grid/systems/grid-system.js';
import { present } from '../../../records/present.js';
import {
  ANGLE,
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  NUMBER,
  inForm,
  stated,
  together,
  withDecimals,
  worked,
} from '../lines/worked-lines.js';
import type { NumberForm } from '../lines/worked-lines.js';

/** Tangent of the conformal latitude of a named latitude, as a formula. */
export const conformal = (latitude: string, spherical: boolean): string =>
  spherical ? `tan ${latitude}` : `sinh(${isometric(latitude, spherical)})`;

/** Isometric latitude of a named latitude, as a formula; SNYDER-1395, equation 3-7. */
export const isometric = (latitude: string, spherical: boolean): string =>
  spherical ? `atanh(sin ${latitude})` : `atanh(sin ${latitude}) − e·atanh(e·sin ${latitude})`;

/** Radius of the parallel of a named latitude over the semi-major axis, as a formula; SNYDER-1395, equation 14-15. */
export const parallel = (latitude: string, spherical: boolean): string =>
  spherical ? `cos ${latitude}` : `cos ${latitude} / √(1 − e²·sin²${latitude})`;

/** A parameter that the projection has, in its unit. */
export const parameterOf = (grid: GridSystem, name: string): number => present(gridParameter(grid, name), name);

export const falseOrigin = (grid: GridSystem): { readonly eastM: number; readonly northM: number } => ({
  eastM: present(falseEastingM(grid), 'false easting'),
  northM: parameterOf(grid, 'false northing'),
});

export function falseOriginText(grid: GridSystem): string {
  const { eastM, northM } = falseOrigin(grid);
  return together(stated('E₀', eastM, withDecimals(INPUT, 10)), stated('N₀', northM, withDecimals(INPUT, 10)));
}

export const placeLine = (latitudeDeg: number, longitudeDeg: number): string =>
  together(stated('φ', latitudeDeg, INPUT_ANGLE, 9), stated('λ', longitudeDeg, INPUT_ANGLE, 9));

/** From the central meridian to a longitude, degrees, −180 to 180. */
export function meridianDifference(longitudeDeg: number, meridianDeg: number): number {
  const turned = longitudeDeg - meridianDeg;
  return turned > 180 ? turned - 360 : turned < -180 ? turned + 360 : turned;
}

export function differenceLine(longitudeDeg: number, meridianDeg: number): string {
  const turned = longitudeDeg - meridianDeg;
  const formula = Math.abs(turned) <= 180 ? 'λ − λ₀' : `λ − λ₀ ${turned > 180 ? '−' : '+'} 360°`;
  return worked('Δλ', formula, meridianDifference(longitudeDeg, meridianDeg), ANGLE);
}

/** From E and N, metres, to the coordinates as the grid counts and measures them. */
export function pairLines({ axes }: GridSystem, eastM: number, northM: number): readonly string[] {
  const [first, second] = axes;
  const [eastSign, northSign] = signsOf(axes);
  const minus = (sign: 1 | -1): string => (sign < 0 ? '−' : '');
  const per = first.metresPerUnit === 1 ? '' : ' / u';
  return [
    ...(per === '' ? [] : [`${stated('u', first.metresPerUnit, withDecimals(LENGTH, 16))} (one ${first.unitName})`]),
    `${first.columnName} = ${minus(eastSign)}E${per} = ${inForm((eastSign * eastM) / first.metresPerUnit, withDecimals(NUMBER, 4))}`,
    `${second.columnName} = ${minus(northSign)}N${per} = ${inForm((northSign * northM) / second.metresPerUnit, withDecimals(NUMBER, 4))}`,
  ];
}

/** A projection worked at a place. */
export interface ProjectedLines {
  /** To E and N. */
  readonly lines: readonly string[];
  /** E and N, metres, with the false origin. */
  readonly eastM: number;
  readonly northM: number;
  /** To the point scale factor and the convergence. */
  readonly factors: readonly string[];
}

/** How the factors of a grid are written. */
export const factorForms: { readonly scale: NumberForm; readonly convergence: NumberForm } = {
  scale: withDecimals(NUMBER, 9),
  convergence: withDecimals(ANGLE, 6),
};

/** Origin, scale there and false origin of a grid that has all of them. */
export const originLine = (grid: GridSystem): string =>
  together(
    stated('φ₀', parameterOf(grid, 'latitude of origin'), INPUT_ANGLE),
    stated('λ₀', parameterOf(grid, 'longitude of origin'), INPUT_ANGLE),
    stated('k₀', parameterOf(grid, 'scale factor at origin'), NUMBER),
    falseOriginText(grid),
  );
