import type { BaseFrameReduction } from '../../core/frames/shifts/shift-base-frame.js';
import { shiftCoefficients } from '../../core/frames/shifts/shift-coefficients.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { GeocentricPoint } from '../../records/points/point.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { ReducedOccupation } from '../reduce/reduction-working.js';
import { geocentricText, millimetres } from './explain-text.js';
import { AXES, componentOf, shiftMatrixLines, shiftRow } from './shift-lines.js';
import { INPUT, LENGTH, given, inOne, worked } from './worked-lines.js';
import { present } from '../../records/present.js';

/** From the frame of the fixes to the frame of the grid; nothing where they are one. */
export function explainFrame({ working }: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  const { shift, fixesSystem, grid } = setup;
  const { national, mean, base } = working;
  if (shift === null || national === null || mean === null) return [];
  const at = shiftCoefficients(shift.shift, shift.epochYear, shift.direction);
  const { code, name, source, accuracyM } = shift.shift;
  const reduction = base?.frameReduction ?? null;
  return [
    {
      title: `From ${fixesSystem.name}, the frame of the satellites, to ${present(grid, 'grid').base.name}, the frame of the grid`,
      formula:
        reduction === null
          ? 'X(grid) = C + M X'
          : 'X(grid) = B + M (X − B′),  B the base in the frame of the grid, B′ the same base in the frame of the fixes',
      substitution: [
        `${code === null ? '' : `${code} `}${name}${shift.direction === 'inverse' ? ', applied backwards' : ''}${shift.epochYear === null ? '' : `, epoch ${String(shift.epochYear)}`}; stated accuracy ${accuracyM === null ? 'none' : `${String(accuracyM)} m`}`,
        ...(at.ok
          ? [
              `M turns by ${turns(at.value.matrix)} arc seconds about X, Y, Z and stretches by ${formatFixed((at.value.matrix.m11 - 1) * 1e6, 4)} ppm`,
              ...shiftMatrixLines(at.value),
            ]
          : []),
        inOne(AXES.map((axis) => given(`${axis}_0`, componentOf(mean, axis), INPUT))),
        ...(reduction === null || base === null ? [] : baseLines(base.arp, reduction)),
        ...AXES.map((axis, row) =>
          worked(
            axis,
            reduction === null
              ? `C_${axis} + ${shiftRow(row, ['X_0', 'Y_0', 'Z_0'])}`
              : `${axis}_b + ${shiftRow(row, ['(X_0 − X_B)', '(Y_0 − Y_B)', '(Z_0 − Z_B)'])}`,
            componentOf(national.national, axis),
            LENGTH,
          ),
        ),
      ],
      result: [
        geocentricText(national.national),
        ...(national.differenceM === null
          ? []
          : [`moving the point with its base alone would differ by ${millimetres(national.differenceM)}`]),
      ],
      source: source ?? 'docs/methods/plate-motion.md',
    },
  ];
}

/** The base in both frames: B′ in that of the fixes, B in that of the grid. */
function baseLines(inFixes: GeocentricPoint, { translation }: BaseFrameReduction): readonly string[] {
  return [
    `B′: ${inOne(AXES.map((axis) => given(`${axis}_B`, componentOf(inFixes, axis), INPUT)))}`,
    `B: ${inOne(AXES.map((axis) => given(`${axis}_b`, componentOf(inFixes, axis) - componentOf(translation, axis), INPUT)))}`,
  ];
}

const ARCSECONDS_PER_RADIAN = (180 / Math.PI) * 3600;

/** Position vector rotations of a matrix near the identity. */
function turns(m: { readonly m12: number; readonly m13: number; readonly m23: number }): string {
  return [-m.m23, m.m13, -m.m12].map((value) => formatFixed(value * ARCSECONDS_PER_RADIAN, 5)).join(', ');
}
