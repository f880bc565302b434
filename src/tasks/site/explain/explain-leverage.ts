import type { ResidualTest } from '../../../core/adjustment/residual-tests.js';
import { entryAt } from '../../../records/present.js';
import type { WorkingStep } from '../../../records/working-step.js';
import type { NumberForm } from '../../explain/lines/worked-lines.js';
import { NUMBER, VARIANCE, given, together, withDecimals, worked } from '../../explain/lines/worked-lines.js';
import type { FittedSite } from '../fit-site.js';

const RATIO = withDecimals(NUMBER, 4);
/** Weights in 1/m², which are of the order of ten thousand. */
export const WEIGHT: NumberForm = withDecimals(NUMBER, 6);

/** What a control point weighs in a fit in plan, how far the others check it, and its tests. */
export function leverageStep(
  at: number,
  fitted: FittedSite,
  [east, north]: readonly [ResidualTest, ResidualTest],
): WorkingStep {
  const { equations, adjustment } = fitted.horizontal;
  const p = (entry: number): number => entryAt(equations.weights, 4 * at + entry);
  const h = (entry: number): number => entryAt(adjustment.fittedCofactor, 4 * at + entry);
  const isChecked = east.standardised !== null && north.standardised !== null;
  const test = withDecimals(NUMBER, fitted.sigmasAreStated ? 2 : 6);
  return {
    title: 'Its weight, leverage, redundancy and tests',
    formula: 'H = A (AᵀPA)⁻¹ Aᵀ of the point; leverage (H P)ᵢᵢ, redundancy 1 − leverage; w = (P v)ᵢ / √(P − P H P)ᵢᵢ',
    substitution: [
      together(given('P_EE', p(0), WEIGHT), given('P_EN', p(1), WEIGHT), given('P_NN', p(3), WEIGHT)) + ' (1/m²)',
      together(given('H_EE', h(0), VARIANCE), given('H_EN', h(1), VARIANCE), given('H_NN', h(3), VARIANCE)),
      together(
        worked('leverage_E', 'H_EE·P_EE + H_EN·P_EN', 1 - east.redundancy, RATIO),
        worked('r_E', '1 − leverage_E', east.redundancy, RATIO),
      ),
      together(
        worked('leverage_N', 'H_EN·P_EN + H_NN·P_NN', 1 - north.redundancy, RATIO),
        worked('r_N', '1 − leverage_N', north.redundancy, RATIO),
      ),
      ...(isChecked
        ? [
            worked(
              'w_E',
              '(P_EE·v_E + P_EN·v_N) / √(P_EE − P_EE·P_EE·H_EE − 2·P_EE·P_EN·H_EN − P_EN·P_EN·H_NN)',
              east.standardised,
              test,
            ),
            worked(
              'w_N',
              '(P_EN·v_E + P_NN·v_N) / √(P_NN − P_EN·P_EN·H_EE − 2·P_EN·P_NN·H_EN − P_NN·P_NN·H_NN)',
              north.standardised,
              test,
            ),
            ...(fitted.sigmasAreStated || east.studentisedPair === null
              ? []
              : [
                  worked(
                    'pair',
                    '√(((1 − H_NN)·v_E² + 2·H_EN·v_E·v_N + (1 − H_EE)·v_N²) / ((1 − H_EE)·(1 − H_NN) − H_EN²)) / s₀',
                    east.studentisedPair,
                    withDecimals(NUMBER, 2),
                  ) + ' (both coordinates, by Pope’s test of equal weights)',
                ]),
          ]
        : ['not tested: nothing checks it']),
    ],
    result: [],
    source: 'BAARDA-1968; docs/methods/site-fit.md',
  };
}
