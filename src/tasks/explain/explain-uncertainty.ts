import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { AGE_LIMIT_S } from '../../core/observation/uncertainty/age-covariance.js';
import type { PredictedPrecision } from '../../core/planning/precision-model.js';
import type { ReducedPoint, UncertaintyParts } from '../../records/points/reduced-point.js';
import type { WorkingStep } from '../../records/working-step.js';
import type { ReductionSetup } from '../reduce/reduction-setup.js';
import type { ReducedOccupation } from '../reduce/reduction-working.js';
import { metres, millimetres, sigmas } from './explain-text.js';

/** The uncertainty, part by part, the 95 % figures, and the verdict. */
export function explainUncertainty(
  { point, working }: ReducedOccupation,
  setup: ReductionSetup,
): readonly WorkingStep[] {
  const { uncertainty, prediction } = working;
  return [
    ...(uncertainty === null || prediction === null
      ? []
      : [modelStep(prediction), partsStep(uncertainty, point.epochsUsed, setup)]),
    ...(point.summary === null ? [] : [figuresStep(point.summary)]),
    verdictStep(point, setup),
  ];
}

function modelStep({
  horizontal,
  vertical,
  correlationHorizontalS,
  correlationVerticalS,
}: PredictedPrecision): WorkingStep {
  return {
    title: 'What one fixed epoch is worth at this baseline, by the planning model',
    formula: 'σ² = constant² + ionosphere² + troposphere² + orbits² (or the constant and ppm of the session)',
    substitution: [
      `per horizontal axis: constant ${millimetres(horizontal.constantM)}, ionosphere ${millimetres(horizontal.ionosphereM)}, troposphere ${millimetres(horizontal.troposphereM)}, orbits ${millimetres(horizontal.orbitM)}, proportional ${millimetres(horizontal.proportionalM)}`,
      `vertical: constant ${millimetres(vertical.constantM)}, ionosphere ${millimetres(vertical.ionosphereM)}, troposphere ${millimetres(vertical.troposphereM)}, orbits ${millimetres(vertical.orbitM)}, proportional ${millimetres(vertical.proportionalM)}`,
    ],
    result: [
      `one sigma ${millimetres(horizontal.totalM)} per horizontal axis, ${millimetres(vertical.totalM)} vertical`,
      `correlation time ${formatFixed(correlationHorizontalS, 0)} s horizontal, ${formatFixed(correlationVerticalS, 0)} s vertical`,
    ],
    source: 'docs/methods/uncertainty.md (planning assumptions)',
  };
}

function partsStep(
  uncertainty: NonNullable<ReducedOccupation['working']['uncertainty']>,
  epochsUsed: number,
  setup: ReductionSetup,
): WorkingStep {
  return {
    title: 'What averaging leaves, and what it cannot touch',
    formula: 'C = C(noise)·Σw²/(Σw)² + C(slow)·ΣΣ wᵢwⱼ exp(−|tᵢ−tⱼ|/τ)/(Σw)² + C(age) + C(pole) + C(base) + C(bend)',
    substitution: [
      `noise of the epochs      ${sigmas(uncertainty.noise)}`,
      `slow, constant part      ${sigmas(uncertainty.correlated)}`,
      `slow, grows with baseline ${sigmas(uncertainty.baseline)}`,
      ...ageLine(uncertainty, setup),
      `pole and its lean        ${sigmas(uncertainty.pole)}`,
      `base coordinate          ${sigmas(uncertainty.base)}`,
      ...(uncertainty.bend.uuM2 === 0 ? [] : [`bend by a wrong base     ${sigmas(uncertainty.bend)}`]),
      `the epochs count as ${formatFixed(uncertainty.effectiveEpochs, 2)} independent ones, not ${epochsUsed}`,
    ],
    result: [`total ${sigmas(uncertainty.total)}`, geoidLine(uncertainty.geoidVarianceM2)],
    source: 'docs/methods/uncertainty.md',
  };
}

function figuresStep(summary: NonNullable<ReducedPoint['summary']>): WorkingStep {
  return {
    title: 'Figures at 95 %',
    formula: 'ellipse 2.4477 √λ₁, 2.4477 √λ₂; circle of 95 % probability; vertical 1.9600 √(σ_u² + σ_N²)',
    substitution: [
      `ellipse ${metres(summary.ellipseMajor95M)} × ${metres(summary.ellipseMinor95M)}, major axis at azimuth ${formatFixed(summary.ellipseAzimuthDeg, 1)}°`,
    ],
    result: [`circle ${metres(summary.circle95M)}, vertical ${metres(summary.vertical95M)}`],
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
function ageLine({ age }: UncertaintyParts, { ageRateMPerS }: ReductionSetup): readonly string[] {
  if (age.uuM2 === 0) return [];
  const ageS = Math.sqrt(age.uuM2) / ageRateMPerS;
  const beyond = ageS > AGE_LIMIT_S ? `, which was held against ages to ${formatFixed(AGE_LIMIT_S, 0)} s only` : '';
  return [
    `age of the corrections   ${sigmas(age)} (${formatFixed(ageS, 1)} s at ${formatFixed(ageRateMPerS * 1000, 1)} mm/s, an assumption${beyond})`,
  ];
}

function geoidLine(varianceM2: number | null): string {
  return varianceM2 === null
    ? 'geoid: no sigma stated, none included'
    : `geoid: ${millimetres(Math.sqrt(varianceM2))}, added to the height only`;
}
