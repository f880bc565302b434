import type { LimitVerdict } from '../../../core/quality/standards/limit-verdict.js';
import { column } from '../../../io/tables/columns/column.js';
import type { Column, ColumnUnit } from '../../../io/tables/columns/column.js';
import type { CheckLine, ComparedLine } from '../../../tasks/check/check-line.js';
import type { CheckAxes } from '../../../tasks/check/judge/check-tolerances-setup.js';

type CheckColumn = Column<never, CheckLine>;

/** Decimals of statistics. */
const STATISTIC_DECIMALS = 3;
const DIFFERENCE = 'measured minus known (later minus earlier) along the axes of the system, and in height';
const MEASURED = 'what was measured, and what it was compared with';
const ACROSS = 'along and to the right of the direction from the base, or of the line';
const JUDGED =
  '`limit`; `uncertainty` where no limit is set for that axis; `nothing` where neither is known; empty where it was not compared';

/** A number of a comparison; one without an end, such as a statistic by a sigma of 0, is not written. */
function figure(
  name: string,
  written: { readonly unit: ColumnUnit; readonly decimals?: number } | { readonly decimals: number },
  get: (compared: ComparedLine) => number | null,
  describe: string,
): CheckColumn {
  return column({
    name,
    kind: 'number',
    ...written,
    get({ compared }) {
      const value = compared === null ? null : get(compared);
      return value === null || !Number.isFinite(value) ? null : value;
    },
    describe,
  });
}

/** A word of a comparison. */
function word(name: string, get: (compared: ComparedLine) => string | null, describe: string): CheckColumn {
  return column({
    name,
    kind: 'word',
    get: ({ compared }) => (compared === null ? null : get(compared)),
    describe,
  });
}

/** The limit of plan or height with the least margin. */
function limitColumns(
  stem: 'horizontal' | 'vertical',
  axis: 'plan' | 'height',
  get: (compared: ComparedLine) => LimitVerdict | null,
): readonly CheckColumn[] {
  const limit = `${stem}_limit`;
  return [
    figure(`${limit}_m`, { unit: 'm' }, (of) => get(of)?.limitM ?? null, `the limit in ${axis} with the least margin`),
    figure(`${stem}_margin_m`, { unit: 'm' }, (of) => get(of)?.marginM ?? null, 'limit minus value'),
    column({
      name: limit,
      kind: 'text',
      get: ({ compared }) => (compared === null ? null : (get(compared)?.limitName ?? null)),
      describe: 'name of the limit',
    }),
    word(
      `${stem}_governed_by`,
      (of) => get(of)?.governedBy ?? null,
      'the term that decided it: `constant`, `proportion`, `root-distance`, `floor`, `cap`',
    ),
  ];
}

/** Columns of the comparisons, differences named by the axes of the system. */
export function checkColumns(axes: CheckAxes): readonly CheckColumn[] {
  return [
    column({
      name: 'check',
      kind: 'word',
      get: (line) => line.check,
      describe: '`control`, `repeat`, `base-pair`, `design` or `line`; `class`',
    }),
    column({ name: 'point_id', kind: 'id', get: (line) => line.pointId, describe: MEASURED }),
    column({
      name: 'occupation',
      kind: 'id',
      get: (line) => line.occupation,
      describe: `${MEASURED}; of a repeated point whose occupations the file does not name, its order there`,
    }),
    column({
      name: 'against',
      kind: 'id',
      get: ({ compared }) => (compared === null ? null : compared.row.against),
      describe: MEASURED,
    }),
    figure(`difference_${axes.first}_m`, { unit: 'm' }, ({ row }) => row.firstM, DIFFERENCE),
    figure(`difference_${axes.second}_m`, { unit: 'm' }, ({ row }) => row.secondM, DIFFERENCE),
    figure('difference_height_m', { unit: 'm' }, ({ row }) => row.upM, DIFFERENCE),
    word('height_kind', ({ row }) => row.heightKind, 'the heights compared: `orthometric` or `ellipsoidal`'),
    figure('horizontal_m', { unit: 'm' }, ({ planM }) => planM, 'length of the difference in plan'),
    figure('along_m', { unit: 'm' }, ({ row }) => row.alongM, ACROSS),
    figure('across_m', { unit: 'm' }, ({ row }) => row.acrossM, ACROSS),
    figure('chainage_m', { unit: 'm' }, ({ row }) => row.chainageM, 'distance along a line'),
    figure('distance_m', { unit: 'm' }, ({ row }) => row.distanceM, 'distance from the base'),
    figure('separation_s', { unit: 's', decimals: 0 }, ({ row }) => row.separationS, 'time between two occupations'),
    figure(
      'horizontal_statistic',
      { decimals: STATISTIC_DECIMALS },
      ({ row }) => row.horizontalStatistic,
      'ΔᵀC⁻¹Δ of the difference in plan',
    ),
    figure(
      'vertical_statistic',
      { decimals: STATISTIC_DECIMALS },
      ({ row }) => row.verticalStatistic,
      'size of the difference in height over its sigma',
    ),
    ...limitColumns('horizontal', 'plan', ({ horizontal }) => horizontal),
    ...limitColumns('vertical', 'height', ({ up }) => up),
    word('horizontal_judged_by', ({ planJudgedBy }) => planJudgedBy, JUDGED),
    word('vertical_judged_by', ({ heightJudgedBy }) => heightJudgedBy, JUDGED),
    column({ name: 'verdict', kind: 'word', get: (line) => line.answer, describe: '`within`, `review` or `no`' }),
    column({ name: 'reasons', kind: 'codes', get: (line) => line.reasons, describe: 'codes, with semicolons between' }),
  ];
}

const CLASS = 'class in plan and in height, such as `2-centimetre`';

/** What follows the columns of a check under a standard of classes, of the measured point. */
export const CLASS_COLUMNS: readonly CheckColumn[] = [
  column({
    name: 'circle_95_m',
    kind: 'number',
    unit: 'm',
    get: ({ pointClass }) => (pointClass === null ? null : pointClass.circle95M),
    describe: 'radius of the circle that holds 95 %',
  }),
  column({
    name: 'vertical_95_m',
    kind: 'number',
    unit: 'm',
    get: ({ pointClass }) => (pointClass === null ? null : pointClass.vertical95M),
    describe: 'height, 95 %',
  }),
  column({
    name: 'horizontal_class',
    kind: 'word',
    get: ({ pointClass }) => (pointClass === null ? null : pointClass.horizontal),
    describe: CLASS,
  }),
  column({
    name: 'vertical_class',
    kind: 'word',
    get: ({ pointClass }) => (pointClass === null ? null : pointClass.vertical),
    describe: CLASS,
  }),
  column({
    name: 'vertical_class_of',
    kind: 'word',
    // Without sigmas there is no class, of whatever height.
    get: ({ pointClass }) => (pointClass?.circle95M == null ? null : pointClass.height),
    describe: '`ellipsoidal height`, or `orthometric height` where the file gives that alone',
  }),
];

/** Names of the columns of a check, under a standard of classes too. */
export function checkNames(axes: CheckAxes, hasClasses: boolean): readonly string[] {
  return [...checkColumns(axes), ...(hasClasses ? CLASS_COLUMNS : [])].map(({ name }) => name);
}
