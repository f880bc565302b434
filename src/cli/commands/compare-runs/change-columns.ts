import { column } from '../../../io/tables/columns/column.js';
import type { Column } from '../../../io/tables/columns/column.js';
import { DECIMALS } from '../../../io/tables/columns/cells/decimals.js';
import type { LocalCovariance } from '../../../records/points/point.js';
import type { RunChange } from '../../../tasks/job/runs/compare-runs.js';

type ChangeColumn = Column<never, RunChange>;

/** One sigma of the difference along an axis. */
function sigma(axis: 'east' | 'north' | 'up', key: 'eeM2' | 'nnM2' | 'uuM2'): ChangeColumn {
  const of = (covariance: LocalCovariance | null): number | null =>
    covariance === null ? null : Math.sqrt(Math.max(0, covariance[key]));
  return column({
    name: `sigma_${axis}_m`,
    kind: 'number',
    unit: 'm',
    get: ({ covariance, upM }) => (axis === 'up' && upM === null ? null : of(covariance)),
    describe: 'one sigma of the difference; empty where the observations are the same',
  });
}

/** Columns of a comparison of two runs, in order. */
export const CHANGE_COLUMNS: readonly ChangeColumn[] = [
  column({ name: 'point_id', kind: 'id', get: ({ pointId }) => pointId, describe: 'identifier of the point' }),
  column({
    name: 'occupation',
    kind: 'id',
    get: ({ occupation }) => occupation,
    describe: 'of the later run; of the earlier where the point vanished',
  }),
  column({
    name: 'change',
    kind: 'word',
    get: ({ change }) => change,
    describe: '`kept`, `moved` (beyond what judges it), `undecided`, `appeared`, `vanished`',
  }),
  column({
    name: 'observations',
    kind: 'word',
    get: ({ observations }) => observations,
    describe: '`same` where the same epochs were reduced twice, `other`',
  }),
  ...(['eastM', 'northM', 'upM'] as const).map((key) =>
    column<never, RunChange, never>({
      name: `difference_${key.slice(0, -1)}_m`,
      kind: 'number',
      unit: 'm',
      get: (change) => change[key],
      describe: 'later minus earlier, along true east, true north and up',
    }),
  ),
  column({
    name: 'height_kind',
    kind: 'word',
    get: ({ heightKind }) => heightKind,
    describe: 'kind of the heights compared',
  }),
  column({
    name: 'horizontal_m',
    kind: 'number',
    unit: 'm',
    get: ({ eastM, northM }) => (eastM === null || northM === null ? null : Math.hypot(eastM, northM)),
    describe: 'length of the movement in plan',
  }),
  sigma('east', 'eeM2'),
  sigma('north', 'nnM2'),
  sigma('up', 'uuM2'),
  column({
    name: 'horizontal_of_95',
    kind: 'number',
    decimals: DECIMALS.ppm,
    get: ({ horizontalShare }) => horizontalShare,
    describe: "movement in shares of its 95 %; of the point's own 95 % where the observations are the same",
  }),
  column({
    name: 'vertical_of_95',
    kind: 'number',
    decimals: DECIMALS.ppm,
    get: ({ verticalShare }) => verticalShare,
    describe: 'the same in height',
  }),
  column({
    name: 'verdict_before',
    kind: 'text',
    get: ({ verdictBefore }) => verdictBefore,
    describe: 'verdict of the point in the earlier run',
  }),
  column({
    name: 'verdict_after',
    kind: 'text',
    get: ({ verdictAfter }) => verdictAfter,
    describe: 'verdict of the point in the later run',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ verdict }) => verdict,
    describe: '`within`; `review` where anything but a movement is to be seen; `no` where it moved beyond',
  }),
  column({ name: 'reasons', kind: 'codes', get: ({ reasons }) => reasons, describe: 'codes' }),
];
