import type { ShiftCoefficients } from '../../../core/frames/shifts/shift-coefficients.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import { LENGTH, NUMBER, given, stated, together, withDecimals } from './worked-lines.js';

/** Geocentric axes, as explanations name them. */
export const AXES = ['X', 'Y', 'Z'] as const;

export const componentOf = ({ xM, yM, zM }: GeocentricPoint, axis: (typeof AXES)[number]): number =>
  axis === 'X' ? xM : axis === 'Y' ? yM : zM;

/** C and M of X′ = C + M X, a row of each on a line. */
export function shiftMatrixLines({ matrix, cxM, cyM, czM, rotationForm }: ShiftCoefficients): readonly string[] {
  const rows = [
    ['X', cxM, matrix.m11, matrix.m12, matrix.m13],
    ['Y', cyM, matrix.m21, matrix.m22, matrix.m23],
    ['Z', czM, matrix.m31, matrix.m32, matrix.m33],
  ] as const;
  const entry = withDecimals(NUMBER, 18);
  return [
    ...rows.map(([axis, c, x, y, z], at) =>
      together(
        stated(`C_${axis}`, c, withDecimals(LENGTH, 10), 4),
        given(`M${String(at + 1)}1`, x, entry),
        given(`M${String(at + 1)}2`, y, entry),
        given(`M${String(at + 1)}3`, z, entry),
      ),
    ),
    ...(rotationForm === 'none' ? [] : [`rotation matrix: ${rotationForm}`]),
  ];
}

/** A row of M, counted from 0, times three names or formulas. */
export const shiftRow = (at: number, factors: readonly string[]): string =>
  factors.map((factor, column) => `M${String(at + 1)}${String(column + 1)}·${factor}`).join(' + ');
