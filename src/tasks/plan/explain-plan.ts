import { formatFixed } from '../../core/numeric/text/format-fixed.js';
import { requiredSeparationS } from '../../core/observation/repeats/repeat-test.js';
import type { OccupationOption } from '../../core/planning/time/occupation-plan.js';
import type { AxisShares } from '../../core/planning/term-shares.js';
import type { UsableRange } from '../../core/planning/usable-range.js';
import type { WorkingStep } from '../../records/working-step.js';
import { createPrecisionModel } from '../../core/planning/precision-model.js';
import { varianceInflation } from '../../core/observation/averaging/correlated-mean.js';
import { ellipseLines } from '../explain/position/explain-ellipse.js';
import { modelStep } from '../explain/explain-model.js';
import { degrees, metres, sigmas } from '../explain/explain-text.js';
import {
  given,
  INPUT,
  METRES,
  MILLIMETRES,
  NUMBER,
  SECONDS,
  SMALL,
  stated,
  inOne,
  together,
  withDecimals,
  worked,
} from '../explain/lines/worked-lines.js';
import type { PlanSetup } from './targets/plan-target.js';
import type { PlannedTarget } from './targets/predict-targets.js';
import { present } from '../../records/present.js';

/**
 * The prediction of one target worked through term by term. Every number is the one the plan used.
 */
export function explainPlan(planned: PlannedTarget, setup: PlanSetup): readonly WorkingStep[] {
  return [
    lineStep(planned),
    modelOf(planned, setup),
    averagingStep(planned, setup),
    figuresStep(planned),
    rangeStep(planned),
    occupationStep(planned, setup),
    ...effectStep(planned),
    verdictStep(planned),
  ];
}

function lineStep({ base, target, prediction }: PlannedTarget): WorkingStep {
  const { baselineM, azimuthDeg, heightDifferenceM } = prediction;
  return {
    title: `The line from base ${base.id}`,
    formula: 'geodesic on the ellipsoid; Δh = h(point) − h(base)',
    substitution: [
      `base  ${degrees(base.latitudeDeg)}, ${degrees(base.longitudeDeg)}, ${heightText(base.ellipsoidalHeightM)}`,
      `point ${degrees(target.latitudeDeg)}, ${degrees(target.longitudeDeg)}, ${heightText(target.ellipsoidalHeightM)}`,
      ...(base.ellipsoidalHeightM === null || target.ellipsoidalHeightM === null || heightDifferenceM === null
        ? []
        : [
            together(given('h_b', base.ellipsoidalHeightM, INPUT), given('h', target.ellipsoidalHeightM, INPUT)),
            worked('Δh', 'h − h_b', heightDifferenceM, METRES),
          ]),
    ],
    result: [
      `distance ${metres(baselineM)}, azimuth ${azimuthDeg === null ? 'none (one place)' : `${formatFixed(azimuthDeg, 6)}°`}`,
      heightDifferenceM === null
        ? 'no height difference: its term is left out'
        : `height difference ${metres(heightDifferenceM)}`,
    ],
    source: 'KARNEY-2013',
  };
}

function heightText(heightM: number | null): string {
  return heightM === null ? 'no height' : `h ${metres(heightM)}`;
}

function modelOf({ at, prediction }: PlannedTarget, setup: PlanSetup): WorkingStep {
  const { figures } = createPrecisionModel({ ...setup.prediction.precision, conditions: at.conditions });
  return modelStep(
    `What one fixed epoch is worth at this baseline, ${at.conditions} conditions`,
    figures,
    at.predicted,
    prediction,
  );
}

function averagingStep({ at }: PlannedTarget, { prediction }: PlanSetup): WorkingStep {
  const { components, shares } = at;
  const { geoidVarianceM2 } = components;
  return {
    title: `What ${String(prediction.epochCount)} planned ${prediction.epochCount === 1 ? 'epoch leaves' : 'epochs, one a second, leave'}, and what is added`,
    formula:
      'C = C(slow)·VIF_n/n + C(pole) + C(base); height: + σ_N²; VIF_n = (1+ρ)/(1−ρ) − 2ρ(1−ρⁿ)/(n(1−ρ)²), ρ = exp(−1 s/τ)',
    substitution: [
      ...inflationLines(at, prediction.epochCount),
      ...PARTS.map(
        ([part, symbol, words]) =>
          `${words}: ${inOne(AXES.map((axis) => given(`${symbol}_${axis}`, Math.sqrt(components[part][VARIANCES[axis]]), SMALL)))}`,
      ),
      geoidVarianceM2 === null
        ? 'geoid: none included'
        : `geoid: ${given('σ_N', Math.sqrt(geoidVarianceM2), SMALL)} (height only)`,
      ...AXES.map((axis) =>
        worked(
          `σ_${axis}`,
          `√(slow_${axis}² + grow_${axis}² + pole_${axis}² + base_${axis}²)`,
          Math.sqrt(components.total[VARIANCES[axis]]),
          MILLIMETRES,
        ),
      ),
    ],
    result: [
      `total ${sigmas(components.total)}`,
      `shares of the variance, horizontal: ${sharesText(shares.horizontal)}`,
      `shares of the variance, vertical: ${sharesText(shares.vertical)}`,
    ],
    source: 'docs/methods/uncertainty.md',
  };
}

const AXES = ['E', 'N', 'U'] as const;
const VARIANCES = { E: 'eeM2', N: 'nnM2', U: 'uuM2' } as const;
const PARTS = [
  ['correlated', 'slow', 'slow, constant part'],
  ['baseline', 'grow', 'slow, grows with baseline'],
  ['pole', 'pole', 'pole and its lean'],
  ['base', 'base', 'base coordinate'],
] as const;

/** What the mean of n epochs, one a second, keeps of a slow error. */
function inflationLines({ predicted, components }: PlannedTarget['at'], count: number): readonly string[] {
  if (count === 1) return ['n = 1', 'f_h = 1', 'f_v = 1'];
  const lines = (axis: 'h' | 'v', tauS: number): readonly string[] => [
    together(
      given(`τ_${axis}`, tauS, SECONDS),
      worked(`ρ_${axis}`, `exp(−1 s / τ_${axis})`, Math.exp(-1 / tauS), NUMBER),
    ),
    worked(
      `f_${axis}`,
      `((1 + ρ_${axis}) / (1 − ρ_${axis}) − 2·ρ_${axis}·(1 − exp(−n·1 s / τ_${axis})) / (n·(1 − ρ_${axis})·(1 − ρ_${axis}))) / n`,
      varianceInflation(count, 1, tauS) / count,
      withDecimals(NUMBER, 6),
    ),
  ];
  return [
    `n = ${String(count)}`,
    ...lines('h', predicted.correlationHorizontalS),
    ...lines('v', predicted.correlationVerticalS),
    ...AXES.map((axis) => {
      const of = axis === 'U' ? 'v' : 'h';
      return together(
        worked(
          `slow_${axis}`,
          `constant_${of}·√f_${of}`,
          Math.sqrt(components.correlated[VARIANCES[axis]]),
          MILLIMETRES,
        ),
        worked(
          `grow_${axis}`,
          `√(f_${of}·(σ_${of}² − constant_${of}²))`,
          Math.sqrt(components.baseline[VARIANCES[axis]]),
          MILLIMETRES,
        ),
      );
    }),
  ];
}

function sharesText(shares: AxisShares): string {
  return Object.entries(shares)
    .filter(([, share]: [string, number]) => share >= 0.0005)
    .map(([term, share]: [string, number]) => `${term} ${formatFixed(100 * share, 1)} %`)
    .join(', ');
}

function figuresStep({ at, target }: PlannedTarget): WorkingStep {
  const { toleranceHorizontalM, toleranceVerticalM } = target;
  return {
    title: 'Figures at 95 %, one occupation',
    formula: 'circle K √λ₁ of 95 % probability (K is 2.4477 for equal axes); vertical 1.959964 √(σ_u² + σ_N²)',
    substitution: [
      ...ellipseLines(at.uncertainty, at.components, true),
      `tolerance: ${toleranceHorizontalM === null ? 'none in plan' : `${metres(toleranceHorizontalM)} in plan`}, ${toleranceVerticalM === null ? 'none in height' : `${metres(toleranceVerticalM)} in height`}`,
    ],
    result: [
      `circle ${metres(at.uncertainty.circle95M)}: ${at.horizontal}`,
      `vertical ${metres(at.uncertainty.vertical95M)}: ${at.vertical}`,
    ],
    source: 'FGDC-NSSDA, appendix 3-A; docs/methods/uncertainty.md',
  };
}

function rangeStep({ remedy, prediction }: PlannedTarget): WorkingStep {
  const { rangeHorizontal, rangeVertical } = remedy;
  return {
    title: 'How near the base would have to stand for one occupation',
    formula: 'the longest d with K·σ(d) ≤ tolerance, K = 2.4477 or 1.9600',
    substitution: [`the line is ${metres(prediction.baselineM)} long`],
    result: [`in plan: ${rangeText(rangeHorizontal)}`, `in height: ${rangeText(rangeVertical)}`],
    source: 'docs/methods/uncertainty.md, usable range',
  };
}

/** A usable range in words. */
export function rangeText(range: UsableRange | null): string {
  if (range === null) return 'no tolerance';
  switch (range.status) {
    case 'found':
      return metres(range.rangeM);
    case 'tolerance-below-constant':
      return 'nowhere: the tolerance is below the terms that do not grow with distance';
    case 'unlimited':
      return 'anywhere';
  }
}

function occupationStep({ remedy, prediction }: PlannedTarget, { limits }: PlanSetup): WorkingStep {
  const { options, chosen, status, earliestSecondStartS, limit } = remedy.occupations;
  const separationS = limits.separationS ?? requiredSeparationS(prediction.baselineM);
  const line = ({ occupations, epochs, reached, uncertainty }: OccupationOption): string =>
    `${String(occupations)} × ${String(epochs)} epochs: circle ${metres(uncertainty.circle95M)}, vertical ${metres(uncertainty.vertical95M)}: ${reached ? 'reached' : 'not reached'}`;
  return {
    title: 'How long, and how often',
    formula: 'of m occupations D apart the slow error keeps VIF(m, D, τ)/m of its variance; two: (1 + e^(−D/τ))/2',
    substitution: [
      `from the end of one to the start of the next: ${formatFixed(separationS / 60, 0)} min`,
      ...options().map(line),
    ],
    result: [
      status === 'reached'
        ? `${String(chosen.occupations)} × ${String(chosen.epochs)} epochs`
        : `not reached: what is left is mostly ${present(limit, 'limit')}`,
      ...(earliestSecondStartS === null
        ? []
        : [`the second may start ${formatFixed(earliestSecondStartS / 60, 1)} min after the start of the first`]),
    ],
    source: 'docs/methods/occupation-plan.md',
  };
}

function effectStep({ effect }: PlannedTarget): readonly WorkingStep[] {
  if (effect === null) return [];
  return [
    {
      title: 'What a wrong base coordinate would do here',
      formula:
        'the same translation at every point; up to 0.063 ppm of the baseline for each metre cannot be removed later',
      substitution: [
        together(stated('Δ', effect.translationM, INPUT, 4), stated('d', effect.baselineM, INPUT, 4)),
        worked('left', '0.000000063·Δ·d', effect.residualM, METRES),
      ],
      result: [
        `moved by ${metres(effect.translationM)} until corrected`,
        `corrected as a grid or geodetic shift instead of a geocentric one: wrong by up to ${metres(effect.shortcutErrorM)}`,
        `not removable: up to ${metres(effect.residualM)} (${effect.judgement})`,
      ],
      source: 'docs/methods/base-correction.md',
    },
  ];
}

function verdictStep({ verdict, wayOut }: PlannedTarget): WorkingStep {
  return {
    title: 'Verdict',
    formula: 'within: both 95 % figures of one occupation are within the tolerance under the conditions judged',
    substitution: [`what would have to change: ${wayOut}`],
    result: [verdict],
    source: 'docs/methods/occupation-plan.md',
  };
}
