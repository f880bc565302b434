import type {
  GivenAxis,
  ModelFigures,
  PredictedAxis,
  PredictedPrecision,
} from '../../core/planning/precision-model.js';
import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import type { WorkingStep } from '../../records/working-step.js';
import { INPUT, MILLIMETRES, NUMBER, SMALL, stated, together, worked } from './lines/worked-lines.js';
import type { NumberForm } from './lines/worked-lines.js';

const PPM: NumberForm = { unit: ' ppm', perOne: 1e6, decimals: 6 };
const PER_METRE: NumberForm = { unit: ' mm/m', perOne: 1e3, decimals: 6 };
const PER_KILOMETRE: NumberForm = { unit: ' mm/km', perOne: 1e6, decimals: 6 };

/** The line that the model is asked at: baseline, and rover minus base in height where it is known. */
export interface ModelLine {
  readonly baselineM: number;
  readonly heightDifferenceM: number | null;
}

/** What one fixed epoch is worth by the planning model: each term with its formula and numbers. */
export function modelStep(
  title: string,
  { horizontal, vertical }: ModelFigures,
  predicted: PredictedPrecision,
  line: ModelLine,
): WorkingStep {
  return {
    title,
    formula:
      'σ² = constant² + ionosphere² + troposphere² + orbits², all but the first a figure times the baseline d; in height, troposphere = c √((z d)² + (y Δh)²) of the zenith delay',
    substitution: [
      together(
        stated('d', line.baselineM, INPUT, 4),
        line.heightDifferenceM === null
          ? 'Δh = 0 m (not known, taken as level)'
          : stated('Δh', line.heightDifferenceM, INPUT, 4),
      ),
      ...('given' in horizontal
        ? givenLines('h', horizontal, predicted.horizontal)
        : [
            stated('constant_h', horizontal.constantM, SMALL, 1),
            ...term('ionosphere_h', 'i_h', horizontal.ionosphere, predicted.horizontal.ionosphereM),
            ...term('troposphere_h', 'w_h', horizontal.troposphere, predicted.horizontal.troposphereM),
            ...term('orbits_h', 'o_h', horizontal.orbit, predicted.horizontal.orbitM),
            sumLine('h', predicted.horizontal),
          ]),
      ...('given' in vertical
        ? givenLines('v', vertical, predicted.vertical)
        : [
            stated('constant_v', vertical.constantM, SMALL, 1),
            ...term('ionosphere_v', 'i_v', vertical.ionosphere, predicted.vertical.ionosphereM),
            together(
              stated('c', vertical.zenithToHeight, NUMBER),
              stated('z', vertical.zenithPerBaseline, PER_KILOMETRE),
              stated('y', vertical.zenithPerHeight, PER_METRE),
            ),
            worked('troposphere_v', 'c·√((z·d)² + (y·Δh)²)', predicted.vertical.troposphereM, MILLIMETRES),
            ...term('orbits_v', 'o_v', vertical.orbit, predicted.vertical.orbitM),
            sumLine('v', predicted.vertical),
          ]),
    ],
    result: [
      `one sigma σ_h of each horizontal axis and σ_v in height`,
      `correlation time ${formatFixed(predicted.correlationHorizontalS, 0)} s horizontal, ${formatFixed(predicted.correlationVerticalS, 0)} s vertical`,
    ],
    source: 'docs/methods/uncertainty.md (planning assumptions)',
  };
}

const term = (name: string, symbol: string, figure: number, valueM: number): readonly string[] => [
  together(stated(symbol, figure, PPM), worked(name, `${symbol}·d`, valueM, MILLIMETRES)),
];

const sumLine = (axis: 'h' | 'v', { totalM }: PredictedAxis): string =>
  worked(
    `σ_${axis}`,
    `√(constant_${axis}² + ionosphere_${axis}² + troposphere_${axis}² + orbits_${axis}²)`,
    totalM,
    MILLIMETRES,
  );

/** Of an axis that the session gives a constant and ppm for. */
function givenLines(axis: 'h' | 'v', { given, combine }: GivenAxis, predicted: PredictedAxis): readonly string[] {
  const [constant, proportional] = [`constant_${axis}`, `proportional_${axis}`];
  return [
    stated(constant, given.constantM, SMALL, 1),
    together(
      stated(`b_${axis}`, given.ppm * 1e-6, PPM),
      worked(proportional, `b_${axis}·d`, predicted.proportionalM, MILLIMETRES),
    ),
    worked(
      `σ_${axis}`,
      combine === 'linear' ? `${constant} + ${proportional}` : `√(${constant}² + ${proportional}²)`,
      predicted.totalM,
      MILLIMETRES,
    ),
  ];
}
