import type { PlanPoint } from '../../../../core/planning/plan-point.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import type { PlanRing } from '../../../../tasks/plan/targets/coverage-shapes.js';
import type { PlannedTarget } from '../../../../tasks/plan/targets/predict-targets.js';

/** The properties of a coverage file, by the role of the feature. */
export interface CoverageColumns {
  readonly ring: readonly Column<never, PlanRing>[];
  readonly base: readonly Column<never, PlanPoint>[];
  readonly point: readonly Column<never, PlannedTarget>[];
  readonly baseline: readonly Column<never, PlannedTarget>[];
}

const ROLE = 'what the feature is';
const BASE = 'the base';
const TOLERANCE = 'the tolerances the ring holds for, 95 %';

/** The properties of a coverage file whose positions are in the frame of that name. */
export function coverageColumns(frameName: string): CoverageColumns {
  const role = (word: string): Column<never, unknown> =>
    column({ name: 'role', kind: 'word', get: () => word, describe: `${ROLE}: \`${word}\`` });
  const frame: Column<never, unknown> = column({
    name: 'frame',
    kind: 'text',
    get: () => frameName,
    describe: 'the geographic system of the file',
  });
  return {
    ring: [role('ring'), ...RING, frame],
    base: [
      role('base'),
      column({ name: 'base_id', kind: 'id', get: ({ id }: PlanPoint) => id, describe: BASE }),
      frame,
    ],
    point: [role('point'), ...SAID, ...POINT, frame],
    baseline: [role('baseline'), ...SAID, ...BASELINE, frame],
  };
}

const RING: readonly Column<never, PlanRing>[] = [
  column({ name: 'base_id', kind: 'id', get: ({ base }) => base.id, describe: BASE }),
  column({
    name: 'conditions',
    kind: 'word',
    get: ({ conditions }) => conditions,
    describe: 'the state of the ionosphere: `quiet`, `normal` or `active`',
  }),
  column({
    name: 'tolerance_horizontal_m',
    kind: 'number',
    unit: 'm',
    get: ({ tolerance }) => tolerance.toleranceHorizontalM,
    describe: TOLERANCE,
  }),
  column({
    name: 'tolerance_vertical_m',
    kind: 'number',
    unit: 'm',
    get: ({ tolerance }) => tolerance.toleranceVerticalM,
    describe: TOLERANCE,
  }),
  column({
    name: 'radius_m',
    kind: 'number',
    unit: 'm',
    get: ({ radiusM }) => radiusM,
    describe: 'the usable range',
  }),
  column({
    name: 'decided_by',
    kind: 'word',
    get: ({ decidedBy }) => decidedBy,
    describe: 'the tolerance that ends it: `horizontal` or `vertical`',
  }),
  column({
    name: 'contains_pole',
    kind: 'word',
    get: ({ ring }) => ring.containsPole,
    describe: '`north` or `south` where the ring goes round that pole',
  }),
  column({
    name: 'height_difference_m',
    kind: 'number',
    unit: 'm',
    get: () => 0,
    describe: 'the height above the base that it holds for',
  }),
  column({
    name: 'basis',
    kind: 'text',
    get: () => 'planning assumption, one occupation, equal heights',
    describe: 'what the range rests on',
  }),
];

const SAID: readonly Column<never, PlannedTarget>[] = [
  column({ name: 'point_id', kind: 'id', get: ({ target }) => target.id, describe: 'the point' }),
  column({ name: 'base_id', kind: 'id', get: ({ base }) => base.id, describe: 'the base that serves it' }),
  column({ name: 'conditions', kind: 'word', get: ({ at }) => at.conditions, describe: 'the conditions judged' }),
  column({ name: 'verdict', kind: 'word', get: ({ verdict }) => verdict, describe: '`within` or `outside`' }),
];

const FIGURES = 'one occupation, 95 %: radius in plan, and in height';
const POINT: readonly Column<never, PlannedTarget>[] = [
  column({
    name: 'circle_95_m',
    kind: 'number',
    unit: 'm',
    get: ({ at }) => at.uncertainty.circle95M,
    describe: FIGURES,
  }),
  column({
    name: 'vertical_95_m',
    kind: 'number',
    unit: 'm',
    get: ({ at }) => at.uncertainty.vertical95M,
    describe: FIGURES,
  }),
  column({
    name: 'tie_base_ids',
    kind: 'codes',
    get: ({ tieBases }) => tieBases,
    describe: 'other bases to observe the point from too, with semicolons between',
  }),
];

const BASELINE: readonly Column<never, PlannedTarget>[] = [
  column({
    name: 'baseline_m',
    kind: 'number',
    unit: 'm',
    get: ({ prediction }) => prediction.baselineM,
    describe: 'length of the geodesic',
  }),
];
