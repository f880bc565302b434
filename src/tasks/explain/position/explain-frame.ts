import { shiftCoefficients } from '../../../core/frames/shifts/shift-coefficients.js';
import { geocentricToGeodetic } from '../../../core/ellipsoid/geocentric.js';
import { identityWords } from '../../../core/geoid/geoid-test-value.js';
import type { GeographicSystem } from '../../../core/grid/systems/geographic-system.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import type { GeocentricPoint } from '../../../records/points/point.js';
import type { WorkingStep } from '../../../records/working-step.js';
import type { ReductionSetup } from '../../reduce/reduction-setup.js';
import type { BaseMove, NationalPoint, ReductionShift } from '../../reduce/reduction-shift.js';
import type { ReducedOccupation } from '../../reduce/reduction-working.js';
import { degrees, geocentricText, metres, millimetres } from '../explain-text.js';
import { AXES, componentOf, shiftMatrixLines, shiftRow } from '../lines/shift-lines.js';
import { INPUT, LENGTH, given, inOne, worked } from '../lines/worked-lines.js';
import { present } from '../../../records/present.js';

/** From the frame of the fixes to the frame of the grid; nothing where they are one. */
export function explainFrame({ working }: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  const { shift, fixesSystem, grid } = setup;
  const { national, mean, base } = working;
  if (shift === null || national === null || mean === null) return [];
  const frames = [fixesSystem, present(grid, 'grid').base] as const;
  const title = `From ${fixesSystem.name}, the frame of the satellites, to ${frames[1].name}, the frame of the grid`;
  if (shift.by.kind === 'places') return [{ title, ...placesStep(shift, mean, national, frames) }];
  const at = shiftCoefficients(shift.by.shift, shift.epochYear, shift.direction);
  const reduction = base?.frameReduction ?? null;
  return [
    {
      title,
      formula:
        reduction === null
          ? 'X(grid) = C + M X'
          : 'X(grid) = B + M (X − B′),  B the base in the frame of the grid, B′ the same base in the frame of the fixes',
      substitution: [
        shiftLine(shift),
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
      result: resultOf(national),
      source: shift.source ?? 'docs/methods/plate-motion.md',
    },
  ];
}

function shiftLine({ code, name, direction, epochYear, accuracyM }: ReductionShift): string {
  return `${code === null ? '' : `${code} `}${name}${direction === 'inverse' ? ', applied backwards' : ''}${epochYear === null ? '' : `, epoch ${String(epochYear)}`}; stated accuracy ${accuracyM === null ? 'none' : `${String(accuracyM)} m`}`;
}

function resultOf({ national, differenceM }: NationalPoint): readonly string[] {
  if (differenceM === null) return [geocentricText(national)];
  return [geocentricText(national), `moving the point with its base alone would differ by ${millimetres(differenceM)}`];
}

/** Place by place: where the point is in both frames. */
function placesStep(
  shift: ReductionShift,
  mean: GeocentricPoint,
  national: NationalPoint,
  [from, to]: readonly [GeographicSystem, GeographicSystem],
): Omit<WorkingStep, 'title'> {
  const place = (point: GeocentricPoint, { name, ellipsoid }: GeographicSystem): string => {
    const { latitudeDeg, longitudeDeg, ellipsoidalHeightM } = geocentricToGeodetic(point, ellipsoid);
    return `${name}: φ ${degrees(latitudeDeg)}, λ ${degrees(longitudeDeg)}, h ${metres(ellipsoidalHeightM)}`;
  };
  const keepsHeights = shift.by.kind === 'places' && shift.by.keepsHeights;
  return {
    formula: `φ, λ to φ′, λ′ at the place of the point${keepsHeights ? ', h′ = h' : ''}`,
    substitution: [
      shiftLine(shift),
      ...(shift.file?.test == null ? [] : [identityWords(shift.file.sha256, shift.file.test)]),
      place(mean, from),
      place(national.national, to),
    ],
    result: resultOf(national),
    source: shift.source ?? 'docs/methods/datum-operations.md',
  };
}

/** The base in both frames: B′ in that of the fixes, B in that of the grid. */
function baseLines(inFixes: GeocentricPoint, { translation }: BaseMove): readonly string[] {
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
