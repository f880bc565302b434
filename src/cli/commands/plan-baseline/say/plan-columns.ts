import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { DescribedColumn } from '../../../../io/tables/columns/column.js';
import { DECIMALS } from '../../../../io/tables/columns/cells/decimals.js';
import { PRECISION_FIELDS } from '../../../../records/settings/session-fields.js';
import type { PlannedTarget } from '../../../../tasks/plan/targets/predict-targets.js';
import {
  BASE_ERROR_COLUMNS,
  conditionColumns,
  metres,
  REMEDY_COLUMNS,
  SHARE_TERMS,
  shareColumn,
} from './plan-figure-columns.js';
import type { PlanColumn } from './plan-figure-columns.js';

/** What of a grid the pair is written with. */
type PairGrid = Pick<GridSystem, 'forward'> & {
  readonly axes: readonly [{ readonly columnName: string }, { readonly columnName: string }];
};

/** Which columns a plan has. */
export interface PlanShown {
  /** The grid whose pair is written; null: none is. */
  readonly grid: PairGrid | null;
  readonly hasShapes: boolean;
  readonly hasBaseError: boolean;
}

/**
 * The columns of a plan. Figures per conditions carry their name; sigmas are those of one occupation with pole, base and
 * (in height) geoid; shares and ranges are of the conditions judged.
 */
export function planColumns({ grid, hasShapes, hasBaseError }: PlanShown): readonly PlanColumn[] {
  return [
    column({
      name: 'point_id',
      kind: 'id',
      get: ({ target }) => target.id,
      describe: 'the point; `ID:1`, `ID:2`, … on the line or area `ID`',
    }),
    ...(hasShapes ? SHAPE_COLUMNS : []),
    ...(grid === null ? [] : pairColumns(grid)),
    ...PLACE_COLUMNS,
    ...PRECISION_FIELDS.conditions.choices.flatMap(conditionColumns),
    ...VERDICT_COLUMNS,
    ...SHARE_TERMS.filter((term) => term !== 'geoid').map((term) => shareColumn('horizontal', term)),
    ...SHARE_TERMS.map((term) => shareColumn('vertical', term)),
    ...REMEDY_COLUMNS,
    ...(hasBaseError ? BASE_ERROR_COLUMNS : []),
    column({
      name: 'tie_base_ids',
      kind: 'codes',
      get: ({ tieBases }) => tieBases,
      describe: 'other bases to observe the point from too, with semicolons between',
    }),
  ];
}

/** Every column that a plan may have, for help and pages. */
export function allPlanColumns(): readonly DescribedColumn[] {
  const grid: PairGrid = {
    axes: [{ columnName: 'easting_m' }, { columnName: 'northing_m' }],
    forward: () => 'ok',
  };
  return planColumns({ grid, hasShapes: true, hasBaseError: true });
}

/** The other columns of the input, under the names given. */
export function carriedColumns(names: readonly string[]): readonly PlanColumn[] {
  return names.map((name, index) =>
    column({
      name,
      kind: 'text',
      // A target that comes from a drawing has no cells of its own.
      get: ({ target }: PlannedTarget) => target.passThrough[index] ?? null,
      describe: 'as in the input',
    }),
  );
}

const SHAPES = 'only with lines and areas';
const SHAPE_COLUMNS: readonly PlanColumn[] = [
  column({
    name: 'kind',
    kind: 'word',
    get: ({ target }) => target.kind,
    describe: `${SHAPES}: \`point\`, \`vertex\`, \`edge\` or \`interior\``,
  }),
  column({
    name: 'feature_id',
    kind: 'text',
    get: ({ target }) => target.featureId,
    describe: `${SHAPES}: the shape`,
  }),
  metres('chainage_m', ({ target }) => target.chainageM, `${SHAPES}: distance along the shape`),
];

function pairColumns(grid: PairGrid): readonly PlanColumn[] {
  const held = { first: 0, second: 0 };
  return (['first', 'second'] as const).map((which, index) =>
    column({
      name: grid.axes[index === 0 ? 0 : 1].columnName,
      kind: 'number',
      decimals: DECIMALS.metres,
      get: ({ target }: PlannedTarget) =>
        grid.forward(target.latitudeDeg, target.longitudeDeg, held) === 'ok' ? held[which] : null,
      describe: 'the grid pair, named by the axes of the system',
    }),
  );
}

const TOLERANCE = 'the tolerance, 95 %';
const PLACE_COLUMNS: readonly PlanColumn[] = [
  column({
    name: 'latitude_deg',
    kind: 'latitude',
    unit: 'deg',
    get: ({ target }) => target.latitudeDeg,
    describe: 'latitude, north positive',
  }),
  column({
    name: 'longitude_deg',
    kind: 'longitude',
    unit: 'deg',
    get: ({ target }) => target.longitudeDeg,
    describe: 'longitude, east positive',
  }),
  metres('ellipsoidal_height_m', ({ target }) => target.ellipsoidalHeightM, 'height above the ellipsoid'),
  column({
    name: 'base_id',
    kind: 'id',
    get: ({ base }) => base.id,
    describe: 'the base that serves it; `free` is the free place, `base` that of `--base`',
  }),
  metres('baseline_m', ({ prediction }) => prediction.baselineM, 'length of the geodesic from the base'),
  column({
    name: 'baseline_azimuth_deg',
    kind: 'direction',
    unit: 'deg',
    decimals: DECIMALS.azimuth,
    get: ({ prediction }) => prediction.azimuthDeg,
    describe: 'at the base, clockwise from true north',
  }),
  metres('baseline_height_difference_m', ({ prediction }) => prediction.heightDifferenceM, 'point minus base'),
  metres('tolerance_horizontal_m', ({ target }) => target.toleranceHorizontalM, TOLERANCE),
  metres('tolerance_vertical_m', ({ target }) => target.toleranceVerticalM, TOLERANCE),
];

const VERDICT_COLUMNS: readonly PlanColumn[] = [
  column({ name: 'conditions', kind: 'word', get: ({ at }) => at.conditions, describe: 'the conditions judged' }),
  column({ name: 'verdict', kind: 'word', get: ({ verdict }) => verdict, describe: '`within` or `outside`' }),
  column({
    name: 'reasons',
    kind: 'codes',
    get: ({ at }) => [
      ...(at.horizontal === 'outside' ? ['point-horizontal-95'] : []),
      ...(at.vertical === 'outside' ? ['point-vertical-95'] : []),
    ],
    describe: 'which axis is outside, with semicolons between',
  }),
  column({
    name: 'way_out',
    kind: 'word',
    get: ({ wayOut }) => wayOut,
    describe:
      '`none`; `longer` occupation; `repeat` apart in time; `nearer-base`; `tolerance` cannot be met at any distance',
  }),
];
