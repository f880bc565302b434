import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { GridSystem } from '../../core/grid/systems/grid-system.js';
import type { WorkingStep } from '../../records/working-step.js';
import {
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  NUMBER,
  given,
  stated,
  together,
  withDecimals,
  worked,
} from '../explain/lines/worked-lines.js';
import type { DesignRun } from './run-design.js';

const RATIO = withDecimals(NUMBER, 12);

/** How the scale of a design came about, and the distortion at one of its points; null: no such point. */
export function explainDesign(
  run: DesignRun,
  { base: { ellipsoid } }: GridSystem,
  pointId: string,
): readonly WorkingStep[] | null {
  const point = run.points.find(({ station }) => station.pointId === pointId);
  if (point === undefined) return null;
  const { design, ratios, measure, heightsAreOrthometric } = run;
  const [least, most] = ratios;
  const isLargest = measure === 'largest';
  return [
    {
      title: 'The scale of the grid',
      formula: 'r = k₁ R/(R + h), k₁ for a scale of 1; k₀ = 2 / (r_least + r_most), rounded to 6 decimals',
      substitution: [
        together(given('r_1', least, RATIO), given('r_2', most, RATIO)) + ' (least and most of all points)',
        ...(isLargest
          ? [worked('K', '2 / (r_1 + r_2)', 2 / (least + most), withDecimals(NUMBER, 10))]
          : ['of every run of 95 in 100 of the points, in the order of r, the one whose ends are closest gives k₀']),
      ],
      result: [`k₀ ${formatFixed(design.scaleFactor, 6)}`],
      source: 'docs/methods/project-grid.md',
    },
    {
      title: `The distortion at ${pointId}`,
      formula: 'R = a √(1 − e²) / (1 − e² sin² φ); δ = k R/(R + h) − 1',
      substitution: [
        together(
          given('a', ellipsoid.semiMajorAxisM, INPUT),
          given('e_2', ellipsoid.eccentricitySquared, withDecimals(NUMBER, 16)),
        ),
        given('φ', point.station.latitudeDeg, INPUT_ANGLE),
        worked('R', 'a·√(1 − e_2) / (1 − e_2·sin(φ)·sin(φ))', point.radiusM, withDecimals(LENGTH, 4)),
        stated('h', point.heightM, INPUT, 4) +
          (heightsAreOrthometric ? ' (orthometric, in place of an ellipsoidal one)' : ''),
        worked('E', 'R / (R + h)', point.elevationFactor, RATIO),
        given('k', point.pointScaleFactor, RATIO) + ' (of the grid there)',
        worked('δ', 'k·E − 1', point.distortion, withDecimals(NUMBER, 10)),
        worked('m', 'δ·100000', point.distortion * 1e5, withDecimals(NUMBER, 4)) + ' (mm in 100 m)',
      ],
      result: [`${formatFixed(point.distortion * 1e6, 2)} ppm`],
      source: 'docs/methods/project-grid.md',
    },
  ];
}
