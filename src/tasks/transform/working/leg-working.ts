import type { ShiftCoefficients } from '../../../core/frames/shifts/shift-coefficients.js';
import type { ShiftDirection } from '../../../core/frames/shifts/shift-definition.js';
import { AXES, componentOf, shiftMatrixLines, shiftRow } from '../../explain/lines/shift-lines.js';
import { INPUT, LENGTH, given, inOne, worked } from '../../explain/lines/worked-lines.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { PointOnTheWay } from '../point-on-the-way.js';

/** What a leg did to a point, term by term. */
export interface LegWorking {
  /** What it is, of one leg of several; null: the leg's own title. */
  readonly title: string | null;
  /** Null: the leg's own. */
  readonly source: string | null;
  readonly formula: string;
  readonly lines: readonly string[];
}

/** Shows the working of a leg between the point before it and after it. */
export type ShowWorking = (
  direction: ShiftDirection,
  before: PointOnTheWay,
  after: PointOnTheWay,
) => readonly LegWorking[];

/** X, Y, Z that a leg starts from. */
export const startLine = (before: GeocentricPoint): string =>
  inOne(AXES.map((axis) => given(`${axis}_0`, componentOf(before, axis), INPUT)));

/** X′ = C + M X. */
export function shiftWorking(
  coefficients: ShiftCoefficients,
  before: GeocentricPoint,
  after: GeocentricPoint,
): LegWorking {
  return {
    title: null,
    source: null,
    formula: 'X′ = C + M X',
    lines: [
      startLine(before),
      ...shiftMatrixLines(coefficients),
      ...AXES.map((axis, at) =>
        worked(axis, `C_${axis} + ${shiftRow(at, ['X_0', 'Y_0', 'Z_0'])}`, componentOf(after, axis), LENGTH),
      ),
    ],
  };
}
