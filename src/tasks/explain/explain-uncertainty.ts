import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { AGE_LIMIT_S } from '../../core/observation/uncertainty/age-covariance.js';
import type { ReducedPoint, UncertaintyParts } from '../../records/points/reduced-point.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { ReducedOccupation } from '../reduce/reduction-working.js';
import { LISTED_EPOCHS } from './explain-average.js';
import { ellipseLines } from './position/explain-ellipse.js';
import { modelStep } from './explain-model.js';
import { metres, millimetres } from './explain-text.js';
import {
  MILLIMETRES,
  NUMBER,
  SECONDS,
  SMALL,
  given,
  inOne,
  together,
  withDecimals,
  worked,
} from './lines/worked-lines.js';

/** The uncertainty, part by part, the 95 % figures, and the verdict. */
export function explainUncertainty(reduced: ReducedOccupation, setup: ReductionSetup): readonly WorkingStep[] {
  const { point, working } = reduced;
  const { uncertainty, prediction } = working;
  return [
    ...(uncertainty === null || prediction === null
      ? []
      : [
          modelStep(
            'What one fixed epoch is worth at this baseline, by the planning model',
            setup.precision.figures,
            prediction,
            {
              // No baseline is known: the part of the model that does not grow with it.
              baselineM: point.baseline?.distanceM ?? 0,
              heightDifferenceM: point.baseline?.heightDifferenceM ?? null,
            },
          ),
          partsStep(uncertainty, reduced, setup),
        ]),
    ...(point.summary === null ? [] : [figuresStep(point.summary, working)]),
    verdictStep(point, setup),
  ];
}

function partsStep(
  uncertainty: NonNullable<ReducedOccupation['working']['uncertainty']>,
  { point, working }: ReducedOccupation,
  setup: ReductionSetup,
): WorkingStep {
  const named = PARTS.filter(([part]) => part !== 'bend' || uncertainty.bend.uuM2 !== 0).filter(
    ([part]) => part !== 'age' || uncertainty.age.uuM2 !== 0,
  );
  const sigma = (part: PartName, axis: Axis): number => Math.sqrt(Math.max(0, uncertainty[part][VARIANCES[axis]]));
  const widest = named.reduce((most, [, , words]) => Math.max(most, words.length), 0);
  return {
    title: 'What averaging leaves, and what it cannot touch',
    formula: 'C = C(noise)·Σw²/(Σw)² + C(slow)·ΣΣ wᵢwⱼ exp(−|tᵢ−tⱼ|/τ)/(Σw)² + C(age) + C(pole) + C(base) + C(bend)',
    substitution: [
      ...factorLines(working),
      ...named.map(
        ([part, symbol, words]) =>
          `${words.padEnd(widest)}: ${inOne(AXES.map((axis) => given(`${symbol}_${axis}`, sigma(part, axis), SMALL)))}${part === 'age' ? ageNote(uncertainty, setup) : ''}`,
      ),
      ...AXES.map((axis) =>
        worked(
          `σ_${axis}`,
          `√(${named.map(([, symbol]) => `${symbol}_${axis}²`).join(' + ')})`,
          sigma('total', axis),
          MILLIMETRES,
        ),
      ),
      `the epochs count as ${formatFixed(uncertainty.effectiveEpochs, 2)} independent ones, not ${String(point.epochsUsed)}`,
    ],
    result: [
      `total east ${millimetres(sigma('total', 'E'))}, north ${millimetres(sigma('total', 'N'))}, up ${millimetres(sigma('total', 'U'))}`,
      geoidLine(uncertainty.geoidVarianceM2),
    ],
    source: 'docs/methods/uncertainty.md',
  };
}

type PartName = 'noise' | 'correlated' | 'baseline' | 'age' | 'pole' | 'base' | 'bend' | 'total';
type Axis = 'E' | 'N' | 'U';
const AXES: readonly Axis[] = ['E', 'N', 'U'];
const VARIANCES = { E: 'eeM2', N: 'nnM2', U: 'uuM2' } as const;
const PARTS: readonly (readonly [PartName, string, string])[] = [
  ['noise', 'noise', 'noise of the epochs'],
  ['correlated', 'slow', 'slow, constant part'],
  ['baseline', 'grow', 'slow, grows with baseline'],
  ['age', 'age', 'age of the corrections'],
  ['pole', 'pole', 'pole and its lean'],
  ['base', 'base', 'base coordinate'],
  ['bend', 'bend', 'bend by a wrong base'],
];

/** What averaging leaves of the slow errors, from the table of epochs; nothing where there is none. */
function factorLines({ average, prediction, uncertainty }: ReducedOccupation['working']): readonly string[] {
  if (average === null || prediction === null || uncertainty === null || average.outlier.length > LISTED_EPOCHS)
    return [];
  const { horizontal, vertical, correlationHorizontalS, correlationVerticalS } = prediction;
  return [
    together(given('τ_h', correlationHorizontalS, SECONDS), given('τ_v', correlationVerticalS, SECONDS)),
    together(given('constant_h', horizontal.constantM, SMALL), given('constant_v', vertical.constantM, SMALL)),
    ...AXES.flatMap((axis) => {
      const of = axis === 'U' ? 'v' : 'h';
      const { totalM } = axis === 'U' ? vertical : horizontal;
      const [slow, grows] = [uncertainty.correlated[VARIANCES[axis]], uncertainty.baseline[VARIANCES[axis]]];
      // A model that expects nothing has nothing to average.
      if (totalM === 0) return [];
      return together(
        worked(
          `f_${axis}`,
          `pairs(w_${axis}, t, τ_${of}) / sum(w_${axis})²`,
          (slow + grows) / (totalM * totalM),
          withDecimals(NUMBER, 4),
        ),
        worked(`slow_${axis}`, `constant_${of}·√f_${axis}`, Math.sqrt(slow), MILLIMETRES),
        worked(`grow_${axis}`, `√(f_${axis}·(σ_${of}² − constant_${of}²))`, Math.sqrt(grows), MILLIMETRES),
      );
    }),
    'pairs(w, t, τ) = ΣΣ wᵢ wⱼ exp(−|tᵢ − tⱼ| / τ) over the epochs of the table',
  ];
}

function figuresStep(
  summary: NonNullable<ReducedPoint['summary']>,
  { uncertainty, position }: ReducedOccupation['working'],
): WorkingStep {
  return {
    title: 'Figures at 95 %',
    formula:
      'λ₁,₂ the greatest and least variance in plan; ellipse κ √λ₁, κ √λ₂, κ = √(−2 ln 0.05); circle K √λ₁ with 1 − (2/π) ∫ exp(−K²/(2 q)) dt = 0.95, q = cos²t + (λ₂/λ₁) sin²t, 0 ≤ t ≤ π/2; vertical 1.959964 √(σ_u² + σ_N²)',
    substitution: uncertainty === null ? [] : ellipseLines(summary, uncertainty, position?.geoidHeightM !== null),
    result: [
      `ellipse ${metres(summary.ellipseMajor95M)} × ${metres(summary.ellipseMinor95M)}, major axis at azimuth ${formatFixed(summary.ellipseAzimuthDeg, 1)}°`,
      `circle ${metres(summary.circle95M)}, vertical ${metres(summary.vertical95M)}`,
    ],
    source: 'FGDC-NSSDA, appendix 3-A; docs/methods/uncertainty.md',
  };
}

function verdictStep(point: ReducedPoint, setup: ReductionSetup): WorkingStep {
  const { horizontalM, verticalM } = setup.tolerance;
  return {
    title: 'Verdict',
    formula: 'accepted: no reason against it; review: usable with a stated doubt; rejected: no coordinate is given',
    substitution: [
      `tolerance at 95 %: ${horizontalM === null ? 'none in plan' : `${metres(horizontalM)} in plan`}, ${verticalM === null ? 'none in height' : `${metres(verticalM)} in height`}`,
      `reasons: ${point.reasons.length === 0 ? 'none' : point.reasons.join(', ')}`,
    ],
    result: [point.verdict],
    source: 'docs/methods/acceptance.md',
  };
}

/** How old the corrections were, as the rate tells it; the rate is an assumption, and says where it ends. */
function ageNote({ age }: UncertaintyParts, { ageRateMPerS }: ReductionSetup): string {
  const ageS = Math.sqrt(age.uuM2) / ageRateMPerS;
  const beyond = ageS > AGE_LIMIT_S ? `, which was held against ages to ${formatFixed(AGE_LIMIT_S, 0)} s only` : '';
  return ` (${formatFixed(ageS, 1)} s at ${formatFixed(ageRateMPerS * 1000, 1)} mm/s, an assumption${beyond})`;
}

function geoidLine(varianceM2: number | null): string {
  return varianceM2 === null
    ? 'geoid: no sigma stated, none included'
    : `geoid: ${millimetres(Math.sqrt(varianceM2))}, added to the height only`;
}
