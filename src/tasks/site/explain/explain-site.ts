import { transformToSite } from '../../../core/adjustment/site/site-transform.js';
import { residualTests } from '../../../core/adjustment/residual-tests.js';
import { formatFixed } from '../../../core/numeric/text/format-fixed.js';
import { entryAt } from '../../../records/present.js';
import type { SiteResidualRow } from '../../../records/reports/parts/site-fit.js';
import type { WorkingStep } from '../../../records/working-step.js';
import { millimetres } from '../../explain/explain-text.js';
import {
  INPUT,
  INPUT_ANGLE,
  LENGTH,
  METRES,
  NUMBER,
  SMALL,
  VARIANCE,
  given,
  together,
  withDecimals,
  worked,
} from '../../explain/lines/worked-lines.js';
import { WEIGHT, leverageStep } from './explain-leverage.js';
import type { FittedSite } from '../fit-site.js';
import type { ControlPair } from '../control/pair-control.js';
import type { SiteRun } from '../run-site.js';
import { surfaceSteps } from '../surface/explain-surface.js';

const RATIO = withDecimals(NUMBER, 4);
/** Of weights that are all 1, where sums and tests are of the order of the residuals in metres. */
const EQUAL = withDecimals(NUMBER, 6);
const SQUARES = withDecimals(NUMBER, 10);

/** A control point in a fitted site: its place by the fit, its row of the equations, its residual, leverage and tests; null: no such point. */
export function explainSite(run: SiteRun, pointId: string): readonly WorkingStep[] | null {
  const row = run.judged.rows.find((own) => own.pointId === pointId);
  const pair = run.pairs.find(({ control }) => control.pointId === pointId);
  if (row === undefined || pair === undefined) return null;
  const { fitted } = run;
  const at = fitted.horizontalPairs.indexOf(pair);
  const plan =
    at < 0 ? [] : residualTests(fitted.horizontal.equations, fitted.horizontal.adjustment, fitted.levels.point);
  return [
    fitStep(fitted),
    ...(pair.target === null ? [] : [placeStep(pair, pair.target, fitted)]),
    ...(at < 0
      ? []
      : [designStep(at, pair, fitted), leverageStep(at, fitted, [entryAt(plan, 2 * at), entryAt(plan, 2 * at + 1)])]),
    ...heightSteps(run, pair),
    verdictStep(row, run),
  ];
}

function fitStep({ horizontal, sigmasAreStated }: FittedSite): WorkingStep {
  const { similarity, adjustment, equations, cofactor, scaleIsFree } = horizontal;
  const { observations, unknowns } = equations;
  const sigma = (at: number): number => Math.sqrt(entryAt(cofactor, 5 * at));
  return {
    title: 'The fit in plan, as a whole',
    formula: 'x = (AᵀPA)⁻¹ AᵀP l; X = X₀ + s R (x − x₀), linear about the solution; s² = vᵀPv / redundancy',
    substitution: [
      together(
        `n = ${String(observations)}`,
        `u = ${String(unknowns)}`,
        worked('r', 'n − u', adjustment.redundancy, withDecimals(NUMBER, 0)),
      ),
      given('ω', adjustment.weightedSquares, sigmasAreStated ? RATIO : SQUARES) + ' (vᵀPv)',
      ...(adjustment.redundancy > 0
        ? [
            worked(
              's₀',
              '√(ω / r)',
              Math.sqrt(adjustment.weightedSquares / adjustment.redundancy),
              sigmasAreStated ? RATIO : EQUAL,
            ),
          ]
        : ['nothing checks the fit: there are as many unknowns as observations']),
      `from (AᵀPA)⁻¹, weights ${sigmasAreStated ? 'of the sigmas stated' : 'equal, and only their ratio counts'}: shift ${millimetres(sigma(0))} east, ${millimetres(sigma(1))} north, rotation ${formatFixed(sigma(2) * 206264.80625, 2)}″, ${scaleIsFree ? `scale ${formatFixed(sigma(3) * 1e6, 2)} ppm` : 'scale held'}`,
    ],
    result: [
      `scale ${formatFixed(similarity.scale, 9)}, rotation ${formatFixed((similarity.rotationRad * 180) / Math.PI, 9)}°`,
    ],
    source: 'AITKEN-1935; docs/methods/site-fit.md',
  };
}

function placeStep(
  pair: ControlPair,
  target: NonNullable<ControlPair['target']>,
  { horizontal }: FittedSite,
): WorkingStep {
  const { similarity } = horizontal;
  const { sourceOrigin, targetOrigin, scale, rotationRad } = similarity;
  const place = transformToSite(similarity, pair.source);
  return {
    title: `Its place by the fit (${pair.role === 'fit' ? 'a point of the fit' : 'kept out of the fit, to check it'})`,
    formula:
      'E = E₀ + s (x cos θ − y sin θ), N = N₀ + s (x sin θ + y cos θ), from the middle of the control; v = fit minus control',
    substitution: [
      together(given('s', scale, withDecimals(NUMBER, 14)), given('θ', (rotationRad * 180) / Math.PI, INPUT_ANGLE)),
      together(given('E₀', targetOrigin.eastM, INPUT), given('N₀', targetOrigin.northM, INPUT)),
      together(
        given('x', pair.source.eastM - sourceOrigin.eastM, INPUT),
        given('y', pair.source.northM - sourceOrigin.northM, INPUT),
      ),
      together(given('E_c', target.eastM, INPUT), given('N_c', target.northM, INPUT)) + ' (control)',
      worked('E', 'E₀ + s·(x·cos θ − y·sin θ)', place.eastM, LENGTH),
      worked('N', 'N₀ + s·(x·sin θ + y·cos θ)', place.northM, LENGTH),
      together(
        worked('v_E', 'E − E_c', place.eastM - target.eastM, METRES),
        worked('v_N', 'N − N_c', place.northM - target.northM, METRES),
      ),
    ],
    result: [],
    source: 'docs/methods/site-fit.md',
  };
}

function designStep(at: number, pair: ControlPair, { horizontal }: FittedSite): WorkingStep {
  const { similarity, equations, scaleIsFree } = horizontal;
  const { design, unknowns } = equations;
  const cell = (row: number, column: number): number => entryAt(design, (2 * at + row) * unknowns + column);
  const entry = withDecimals(LENGTH, 4);
  return {
    title: 'Its rows of A',
    formula:
      'of shift east, shift north, rotation and scale: (1, 0, −s N′, E′) and (0, 1, s E′, N′), E′ and N′ turned about the middle',
    substitution: [
      together(
        worked('E′', 'x·cos θ − y·sin θ', turnedOf(pair, similarity)[0], entry),
        worked('N′', 'x·sin θ + y·cos θ', turnedOf(pair, similarity)[1], entry),
      ),
      together(
        'a_11 = 1',
        'a_12 = 0',
        worked('a_13', '−s·N′', cell(0, 2), entry),
        ...(scaleIsFree ? [worked('a_14', 'E′', cell(0, 3), entry)] : []),
      ),
      together(
        'a_21 = 0',
        'a_22 = 1',
        worked('a_23', 's·E′', cell(1, 2), entry),
        ...(scaleIsFree ? [worked('a_24', 'N′', cell(1, 3), entry)] : []),
      ),
    ],
    result: [],
    source: 'docs/methods/site-fit.md',
  };
}

function turnedOf(
  { source }: ControlPair,
  { sourceOrigin, rotationRad }: FittedSite['horizontal']['similarity'],
): readonly [number, number] {
  const [x, y] = [source.eastM - sourceOrigin.eastM, source.northM - sourceOrigin.northM];
  const [cos, sin] = [Math.cos(rotationRad), Math.sin(rotationRad)];
  return [x * cos - y * sin, x * sin + y * cos];
}

function heightSteps({ fitted }: SiteRun, pair: ControlPair): readonly WorkingStep[] {
  const { vertical, verticalPairs, levels, verticalFactor } = fitted;
  if (vertical?.kind === 'surface') return surfaceSteps(vertical, verticalFactor?.applied ?? 1, pair);
  const at = verticalPairs.indexOf(pair);
  if (vertical === null || at < 0) return [];
  const test = entryAt(residualTests(vertical.equations, vertical.adjustment, levels.point), at);
  return [
    {
      title: 'In height',
      formula: 'l = control minus measured height; leverage H P, redundancy 1 − leverage; w = v √P / √(1 − H P)',
      substitution: [
        together(
          given('P', entryAt(vertical.equations.weights, at), WEIGHT),
          given('H', entryAt(vertical.adjustment.fittedCofactor, at), VARIANCE),
          given('v', test.residual, withDecimals(SMALL, 5)),
        ),
        together(
          worked('leverage', 'H·P', 1 - test.redundancy, RATIO),
          worked('r', '1 − leverage', test.redundancy, RATIO),
        ),
        test.standardised === null
          ? 'not tested: nothing checks it'
          : worked('w', 'v·√P / √(1 − H·P)', test.standardised, withDecimals(NUMBER, 2)),
      ],
      result: [],
      source: 'BAARDA-1968; docs/methods/site-fit.md',
    },
  ];
}

function verdictStep(row: SiteResidualRow, { judged, fitted }: SiteRun): WorkingStep {
  const { baarda, popePair } = judged.horizontalLimits;
  const pope =
    popePair === null
      ? 'no test of it: too few others'
      : `both coordinates together at most ${formatFixed(popePair, 2)} by Pope’s test`;
  return {
    title: 'Verdict',
    formula: fitted.sigmasAreStated
      ? 'sigmas are stated: |w| of each coordinate by Baarda’s test'
      : 'sigmas are not stated: w scaled by what the residuals show, by Pope’s test',
    substitution: [
      row.role === 'check'
        ? 'kept out of the fit: its difference is held against the limits given and the uncertainty of prediction, measurement and control together'
        : fitted.sigmasAreStated
          ? `|w| at most ${formatFixed(baarda, 2)}`
          : pope,
      `reasons: ${row.reasons.length === 0 ? 'none' : row.reasons.join(', ')}`,
    ],
    result: [row.verdict],
    source: 'BAARDA-1968; POPE-1976; docs/methods/site-fit.md',
  };
}
