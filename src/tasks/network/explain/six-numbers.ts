import { entryAt, present } from '../../../records/present.js';
import { inOne, stated } from '../../explain/lines/worked-lines.js';
import type { NumberForm } from '../../explain/lines/worked-lines.js';

export const AXES = ['X', 'Y', 'Z'] as const;
/** The six numbers of a symmetric matrix, by its rows. */
export const PAIRS = ['XX', 'XY', 'XZ', 'YY', 'YZ', 'ZZ'] as const;
const PLACES = [0, 1, 2, 4, 5, 8] as const;
/** The name of an entry of a symmetric matrix. */
export const entryName = (i: number, j: number): string =>
  `${entryAt(AXES, Math.min(i, j))}${entryAt(AXES, Math.max(i, j))}`;

/** The six numbers of nine, row by row. */
export const sixOf = (nine: ArrayLike<number>): readonly number[] => PLACES.map((at) => present(nine[at], 'a number'));

/** Six numbers of a symmetric matrix under a name, to be started from. */
export function givenSix(name: (pair: string) => string, six: readonly number[], form: NumberForm): string {
  return inOne(PAIRS.map((pair, k) => stated(name(pair), entryAt(six, k), form, 2)));
}

/** The cofactors of a symmetric matrix of three by three, as formulas. */
export function cofactorFormulas(name: (pair: string) => string): Record<(typeof PAIRS)[number], string> {
  const [xx, xy, xz, yy, yz, zz] = PAIRS.map(name) as [string, string, string, string, string, string];
  return {
    XX: `(${yy}·${zz} − ${yz}²)`,
    XY: `(${xz}·${yz} − ${xy}·${zz})`,
    XZ: `(${xy}·${yz} − ${xz}·${yy})`,
    YY: `(${xx}·${zz} − ${xz}²)`,
    YZ: `(${xy}·${xz} − ${xx}·${yz})`,
    ZZ: `(${xx}·${yy} − ${xy}²)`,
  };
}

/** Its determinant, as a formula. */
export function determinantFormula(name: (pair: string) => string): string {
  const of = cofactorFormulas(name);
  return `${name('XX')}·${of.XX} + ${name('XY')}·${of.XY} + ${name('XZ')}·${of.XZ}`;
}

export function determinantOf([xx, xy, xz, yy, yz, zz]: readonly number[]): number {
  return xx! * (yy! * zz! - yz! * yz!) + xy! * (xz! * yz! - xy! * zz!) + xz! * (xy! * yz! - xz! * yy!);
}
