import { isWithin } from '../../../../core/planning/is-within.js';
import type { ConditionPrediction } from '../../../../core/planning/prediction.js';
import type { AxisShares } from '../../../../core/planning/term-shares.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import { DECIMALS } from '../../../../io/tables/columns/cells/decimals.js';
import type { PlannedTarget } from '../../../../tasks/plan/targets/predict-targets.js';

/** A column of a plan. */
export type PlanColumn = Column<never, PlannedTarget>;

/** The terms of the variance, in the order they are written. */
export const SHARE_TERMS: readonly (keyof AxisShares)[] = [
  'constant',
  'ionosphere',
  'troposphere',
  'orbit',
  'proportional',
  'noise',
  'pole',
  'base',
  'geoid',
];

/** A column of lengths. */
export const metres = (name: string, get: (of: PlannedTarget) => number | null, describe: string): PlanColumn =>
  column({ name, kind: 'number', unit: 'm', get, describe });

/** What one occupation gives under one of the conditions. */
export function conditionColumns(conditions: ConditionPrediction['conditions']): readonly PlanColumn[] {
  const at = ({ prediction }: PlannedTarget): ConditionPrediction | undefined =>
    prediction.byConditions.find((entry) => entry.conditions === conditions);
  const root = (varianceM2: number): number => Math.sqrt(Math.max(0, varianceM2));
  const sigma = `one sigma per axis of one occupation under ${conditions} conditions`;
  const figure95 = `95 % of one occupation under ${conditions} conditions: radius in plan, and in height`;
  return [
    metres(
      `sigma_horizontal_${conditions}_m`,
      (planned) => {
        const total = at(planned)?.components.total;
        return total === undefined ? null : root((total.eeM2 + total.nnM2) / 2);
      },
      sigma,
    ),
    metres(
      `sigma_vertical_${conditions}_m`,
      (planned) => {
        const components = at(planned)?.components;
        // The sigma of the geoid is not stated: what is left is the rest.
        return components === undefined ? null : root(components.total.uuM2 + (components.geoidVarianceM2 ?? 0));
      },
      sigma,
    ),
    metres(`circle_95_${conditions}_m`, (planned) => at(planned)?.uncertainty.circle95M ?? null, figure95),
    metres(`vertical_95_${conditions}_m`, (planned) => at(planned)?.uncertainty.vertical95M ?? null, figure95),
    column({
      name: `verdict_${conditions}`,
      kind: 'word',
      get: (planned: PlannedTarget) => {
        const found = at(planned);
        return found === undefined ? null : isWithin(found) ? 'within' : 'outside';
      },
      describe: `\`within\` or \`outside\` under ${conditions} conditions`,
    }),
  ];
}

/** The share of one term of the variance along one axis. */
export function shareColumn(axis: 'horizontal' | 'vertical', term: keyof AxisShares): PlanColumn {
  return column({
    name: `share_${axis}_${term}`,
    kind: 'number',
    decimals: DECIMALS.correlation,
    get: ({ at }: PlannedTarget) => at.shares[axis][term],
    describe: `share of the ${axis} variance that is of each term, 0 to 1`,
  });
}

const RANGE = 'how near the base would have to stand';
const STATUS = 'whether there is such a range: `found`, `tolerance-below-constant` or `unlimited`';
const REACHED = 'what the planned occupations reach, 95 %';
/** How near the base would have to stand, and what occupations would do. */
export const REMEDY_COLUMNS: readonly PlanColumn[] = [
  metres('range_horizontal_m', ({ remedy }) => remedy.rangeHorizontal?.rangeM ?? null, `${RANGE}, for plan`),
  column({
    name: 'range_horizontal_status',
    kind: 'word',
    get: ({ remedy }) => remedy.rangeHorizontal?.status ?? null,
    describe: STATUS,
  }),
  metres('range_vertical_m', ({ remedy }) => remedy.rangeVertical?.rangeM ?? null, `${RANGE}, for height`),
  column({
    name: 'range_vertical_status',
    kind: 'word',
    get: ({ remedy }) => remedy.rangeVertical?.status ?? null,
    describe: STATUS,
  }),
  column({
    name: 'plan_status',
    kind: 'word',
    get: ({ remedy }) => remedy.occupations.status,
    describe: '`reached` or `not-reached` with the occupations planned',
  }),
  column({
    name: 'plan_occupations',
    kind: 'number',
    get: ({ remedy }) => remedy.occupations.chosen.occupations,
    describe: 'how often the point is to be occupied',
  }),
  column({
    name: 'plan_epochs',
    kind: 'number',
    get: ({ remedy }) => remedy.occupations.chosen.epochs,
    describe: 'how long each time, one epoch a second',
  }),
  column({
    name: 'plan_second_start_s',
    kind: 'number',
    unit: 's',
    decimals: 0,
    get: ({ remedy }) => remedy.occupations.earliestSecondStartS,
    describe: 'when the second occupation may start after the start of the first',
  }),
  metres('plan_circle_95_m', ({ remedy }) => remedy.occupations.chosen.uncertainty.circle95M, REACHED),
  metres('plan_vertical_95_m', ({ remedy }) => remedy.occupations.chosen.uncertainty.vertical95M, REACHED),
  column({
    name: 'plan_limit',
    kind: 'word',
    get: ({ remedy }) => remedy.occupations.limit,
    describe: 'what is mostly left where they do not reach the tolerance',
  }),
];

const BASE_ERROR = 'only with `--base-error`';
/** What a base coordinate that is wrong would do. */
export const BASE_ERROR_COLUMNS: readonly PlanColumn[] = [
  metres(
    'base_error_translation_m',
    ({ effect }) => effect?.translationM ?? null,
    `${BASE_ERROR}: how far the point is off until the base is corrected`,
  ),
  metres(
    'base_error_shortcut_m',
    ({ effect }) => effect?.shortcutErrorM ?? null,
    `${BASE_ERROR}: largest further error where the correction is not added to geocentric coordinates`,
  ),
  metres(
    'base_error_residual_m',
    ({ effect }) => effect?.residualM ?? null,
    `${BASE_ERROR}: bound of what no later correction takes out`,
  ),
  column({
    name: 'base_error_judgement',
    kind: 'word',
    get: ({ effect }) => effect?.judgement ?? null,
    describe: `${BASE_ERROR}: \`harmless\`, \`warn\` or \`reobserve\``,
  }),
];
