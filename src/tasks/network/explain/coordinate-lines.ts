import type { NetworkSystems } from '../input/network-input.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { entryAt } from '../../../records/present.js';
import type { NetworkPoint } from '../../../records/reports/network-report.js';
import type { LocalFrame } from '../../../core/ellipsoid/local-frame.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { ellipseLines } from '../../explain/position/explain-ellipse.js';
import {
  INPUT_ANGLE,
  METRES,
  SMALL,
  VARIANCE,
  inOne,
  stated,
  together,
  withDecimals,
  worked,
} from '../../explain/lines/worked-lines.js';
import { geoidVarianceM2 } from '../input/placed-station.js';
import { COSINE } from './digits.js';
import { AXES, givenSix, sixOf } from './six-numbers.js';

/** Variances of which a direction is made. */
const SPREAD = withDecimals(VARIANCE, 7);
/** An ellipse this near a circle has no direction. */
const ROUND = 1e-5;

const mm = (value: number | null): string => (value === null ? '-' : formatFixed(value * 1000, 2));

/** A C Bᵀ of two axes, as a formula. */
const through = (a: string, b: string): string =>
  AXES.flatMap((row, i) =>
    AXES.map((column, j) => `${a}${row}·Q${i <= j ? row + column : column + row}·${b}${column}`),
  ).join(' + ');

/** The covariance of the station, and its east, north and up. */
function axisLines(block: Float64Array, { sinLat, cosLat, sinLon, cosLon }: LocalFrame): readonly string[] {
  const six = sixOf(block);
  const latitudeDeg = (Math.atan2(sinLat, cosLat) * 180) / Math.PI;
  const longitudeDeg = (Math.atan2(sinLon, cosLon) * 180) / Math.PI;
  const axes = [
    ['−sin(λ)', 'cos(λ)', '0'],
    ['−sin(φ)·cos(λ)', '−sin(φ)·sin(λ)', 'cos(φ)'],
    ['cos(φ)·cos(λ)', 'cos(φ)·sin(λ)', 'sin(φ)'],
  ] as const;
  const values = [
    [-sinLon, cosLon, 0],
    [-sinLat * cosLon, -sinLat * sinLon, cosLat],
    [cosLat * cosLon, cosLat * sinLon, sinLat],
  ] as const;
  return [
    givenSix((pair) => `Q${pair}`, six, withDecimals(VARIANCE, 9)),
    together(stated('φ', latitudeDeg, INPUT_ANGLE), stated('λ', longitudeDeg, INPUT_ANGLE)),
    ...['e', 'n', 'u'].map((letter, row) =>
      inOne(
        AXES.map((axis, k) => {
          const [formula, value] = [entryAt(entryAt(axes, row), k), entryAt(entryAt(values, row), k)];
          return formula === '0' ? `${letter}${axis} = 0` : worked(`${letter}${axis}`, formula, value, COSINE);
        }),
      ),
    ),
  ];
}

/** The covariance of the station in its own axes, and its figures at 95 %. */
export function coordinateStep(
  point: NetworkPoint,
  block: Float64Array,
  frame: LocalFrame | null,
  scale: number,
  systems: NetworkSystems,
): WorkingStep {
  const { covariance, summary } = point;
  const result = [`${point.isChecked ? 'checked' : 'unchecked'}; redundancy ${formatFixed(point.redundancy, 3)}`];
  const factor = scale === 1 ? [] : [`with the variance factor ${formatFixed(scale, 4)}, which the residuals show`];
  const common = { source: 'FGDC-NSSDA, appendix 3-A; docs/methods/network.md; docs/methods/uncertainty.md' };
  if (covariance === null || summary === null || frame === null)
    return {
      title: 'The height at 95 %',
      formula: '1.959964·σ',
      substitution: [
        ...factor,
        together(
          stated('σ', point.sigmaUpM, withDecimals(SMALL, 6), 2),
          worked('vertical', '1.959964·σ', 1.959964 * point.sigmaUpM, METRES),
        ),
      ],
      result: [...result, `height 95 % ${mm(1.959964 * point.sigmaUpM)} mm`],
      ...common,
    };
  const { eeM2, enM2, nnM2, uuM2 } = covariance;
  const isRound = Math.hypot(nnM2 - eeM2, 2 * enM2) < ROUND * (eeM2 + nnM2);
  const geoidVariance = geoidVarianceM2(point.orthometricHeightM, systems);
  return {
    title: 'From the covariance to the ellipse',
    formula:
      'Q of the station from the inverse of the whole (the inverse of its own N would take the neighbours for free of error), turned into east, north and up',
    substitution: [
      ...factor,
      ...axisLines(block, frame),
      worked('C_EE', through('e', 'e'), eeM2, SPREAD),
      worked('C_EN', through('e', 'n'), enM2, SPREAD),
      worked('C_NN', through('n', 'n'), nnM2, SPREAD),
      worked('C_UU', through('u', 'u'), uuM2, SPREAD),
      // What the figures begin with stands above.
      ...ellipseLines(summary, { total: covariance, geoidVarianceM2: geoidVariance }, true)
        .slice(1)
        .filter((line) => !isRound || !line.startsWith('direction')),
    ],
    result: [
      ...result,
      `circle 95 % ${mm(summary.circle95M)} mm, height 95 % ${mm(summary.vertical95M)} mm`,
      ...(point.nearestControl === null
        ? []
        : [
            `relative to ${point.nearestControl}: circle 95 % ${mm(point.relativeCircle95M)} mm, height 95 % ${mm(point.relativeVertical95M)} mm`,
          ]),
    ],
    ...common,
  };
}
