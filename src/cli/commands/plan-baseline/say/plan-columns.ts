import { formatFixed } from '../../../../core/numeric/text/format-fixed.js';
import { ALL_CONDITIONS } from '../../../../core/planning/prediction.js';
import type { AxisShares } from '../../../../core/planning/term-shares.js';
import type { UsableRange } from '../../../../core/planning/usable-range.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import type { GeojsonProperty } from '../../../../io/geojson/geojson-write.js';
import { DECIMALS } from '../../../../io/tables/columns/decimals.js';
import { isWithin } from '../../../../tasks/plan/predict-targets.js';
import type { PlannedTarget } from '../../../../tasks/plan/predict-targets.js';

/** One column of a plan: its name, and its cell. What is not known is an empty cell. */
export interface PlanColumn extends GeojsonProperty {
  readonly cell: (planned: PlannedTarget) => string;
}

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

const number = (name: string, decimals: number, value: (planned: PlannedTarget) => number | null): PlanColumn => ({
  name,
  kind: 'number',
  cell: (planned) => {
    const found = value(planned);
    return found === null ? '' : formatFixed(found, decimals);
  },
});
const metres = (name: string, value: (planned: PlannedTarget) => number | null): PlanColumn =>
  number(name, DECIMALS.metres, value);
const text = (name: string, cell: (planned: PlannedTarget) => string): PlanColumn => ({ name, kind: 'text', cell });

/**
 * The columns of a plan. Figures per conditions carry their name; sigmas are those of one occupation with pole, base and
 * (in height) geoid; shares and ranges are of the conditions judged.
 */
export function planColumns(grid: GridSystem | null, hasShapes: boolean, hasBaseError: boolean): readonly PlanColumn[] {
  return [
    text('point_id', ({ target }) => target.id),
    ...(hasShapes
      ? [
          text('kind', ({ target }) => target.kind),
          text('feature_id', ({ target }) => target.featureId ?? ''),
          metres('chainage_m', ({ target }) => target.chainageM),
        ]
      : []),
    ...gridColumns(grid),
    number('latitude_deg', DECIMALS.degrees, ({ target }) => target.latitudeDeg),
    number('longitude_deg', DECIMALS.degrees, ({ target }) => target.longitudeDeg),
    metres('ellipsoidal_height_m', ({ target }) => target.ellipsoidalHeightM),
    text('base_id', ({ base }) => base.id),
    metres('baseline_m', ({ prediction }) => prediction.baselineM),
    number('baseline_azimuth_deg', DECIMALS.azimuth, ({ prediction }) => prediction.azimuthDeg),
    metres('baseline_height_difference_m', ({ prediction }) => prediction.heightDifferenceM),
    metres('tolerance_horizontal_m', ({ target }) => target.toleranceHorizontalM),
    metres('tolerance_vertical_m', ({ target }) => target.toleranceVerticalM),
    ...conditionColumns(),
    text('conditions', ({ at }) => at.conditions),
    text('verdict', ({ verdict }) => verdict),
    text('reasons', reasons),
    text('way_out', ({ wayOut }) => wayOut),
    ...SHARE_TERMS.filter((term) => term !== 'geoid').map((term) =>
      number(`share_horizontal_${term}`, DECIMALS.correlation, ({ at }) => at.shares.horizontal[term]),
    ),
    ...SHARE_TERMS.map((term) =>
      number(`share_vertical_${term}`, DECIMALS.correlation, ({ at }) => at.shares.vertical[term]),
    ),
    metres('range_horizontal_m', ({ remedy }) => remedy.rangeHorizontal?.rangeM ?? null),
    text('range_horizontal_status', ({ remedy }) => statusOf(remedy.rangeHorizontal)),
    metres('range_vertical_m', ({ remedy }) => remedy.rangeVertical?.rangeM ?? null),
    text('range_vertical_status', ({ remedy }) => statusOf(remedy.rangeVertical)),
    text('plan_status', ({ remedy }) => remedy.occupations.status),
    number('plan_occupations', 0, ({ remedy }) => remedy.occupations.chosen.occupations),
    number('plan_epochs', 0, ({ remedy }) => remedy.occupations.chosen.epochs),
    number('plan_second_start_s', 0, ({ remedy }) => remedy.occupations.earliestSecondStartS),
    metres('plan_circle_95_m', ({ remedy }) => remedy.occupations.chosen.uncertainty.circle95M),
    metres('plan_vertical_95_m', ({ remedy }) => remedy.occupations.chosen.uncertainty.vertical95M),
    text('plan_limit', ({ remedy }) => remedy.occupations.limit ?? ''),
    ...(hasBaseError ? baseErrorColumns() : []),
    text('tie_base_ids', ({ tieBases }) => tieBases.join(';')),
  ];
}

/** The other columns of the input, under the names given. */
export function carriedColumns(names: readonly string[]): readonly PlanColumn[] {
  // A target that comes from a drawing has no cells of its own.
  return names.map((name, index) => text(name, ({ target }) => target.passThrough[index] ?? ''));
}

function gridColumns(grid: GridSystem | null): readonly PlanColumn[] {
  if (grid === null) return [];
  const held = { first: 0, second: 0 };
  const pair =
    (which: 'first' | 'second') =>
    ({ target }: PlannedTarget): number | null =>
      grid.forward(target.latitudeDeg, target.longitudeDeg, held) === 'ok' ? held[which] : null;
  return [metres(grid.axes[0].columnName, pair('first')), metres(grid.axes[1].columnName, pair('second'))];
}

function conditionColumns(): readonly PlanColumn[] {
  return ALL_CONDITIONS.flatMap((conditions, index) => {
    const at = ({ prediction }: PlannedTarget): PlannedTarget['at'] | undefined => prediction.byConditions[index];
    const root = (varianceM2: number | undefined): number | null =>
      varianceM2 === undefined ? null : Math.sqrt(Math.max(0, varianceM2));
    return [
      metres(`sigma_horizontal_${conditions}_m`, (planned) => {
        const total = at(planned)?.components.total;
        return total === undefined ? null : root((total.eeM2 + total.nnM2) / 2);
      }),
      metres(`sigma_vertical_${conditions}_m`, (planned) => {
        const components = at(planned)?.components;
        // The sigma of the geoid is not stated: what is left is the rest.
        return components === undefined ? null : root(components.total.uuM2 + (components.geoidVarianceM2 ?? 0));
      }),
      metres(`circle_95_${conditions}_m`, (planned) => at(planned)?.uncertainty.circle95M ?? null),
      metres(`vertical_95_${conditions}_m`, (planned) => at(planned)?.uncertainty.vertical95M ?? null),
      text(`verdict_${conditions}`, (planned) => {
        const found = at(planned);
        return found === undefined ? '' : isWithin(found) ? 'within' : 'outside';
      }),
    ];
  });
}

function reasons({ at }: PlannedTarget): string {
  return [
    ...(at.horizontal === 'outside' ? ['point-horizontal-95'] : []),
    ...(at.vertical === 'outside' ? ['point-vertical-95'] : []),
  ].join(';');
}

function statusOf(range: UsableRange | null): string {
  return range?.status ?? '';
}

function baseErrorColumns(): readonly PlanColumn[] {
  return [
    metres('base_error_translation_m', ({ effect }) => effect?.translationM ?? null),
    metres('base_error_shortcut_m', ({ effect }) => effect?.shortcutErrorM ?? null),
    metres('base_error_residual_m', ({ effect }) => effect?.residualM ?? null),
    text('base_error_judgement', ({ effect }) => effect?.judgement ?? ''),
  ];
}
