import { column } from '../columns/column.js';
import type { Column } from '../columns/column.js';

/** When the antenna stood on a point, for logs that do not name it. Both ends belong to it. */
export interface OccupationInterval {
  readonly pointId: string;
  readonly fromMs: number;
  readonly toMs: number;
  readonly poleLengthM: number | null;
}

/** The same with its line. */
export interface OccupationRow extends OccupationInterval {
  readonly line: number;
}

/** The columns of the file of --occupations. */
export const OCCUPATION_COLUMNS: readonly Column<OccupationRow>[] = [
  column({
    name: 'point_id',
    kind: 'id',
    isNeeded: true,
    put: (row, id) => (row.pointId = id),
    describe: 'identifier of the point',
  }),
  column({
    name: 'from_utc',
    kind: 'time',
    isNeeded: true,
    put: (row, ms) => (row.fromMs = ms),
    describe: 'first time that belongs to the occupation',
  }),
  column({
    name: 'to_utc',
    kind: 'time',
    isNeeded: true,
    put: (row, ms) => (row.toMs = ms),
    describe: 'last time that belongs to it',
  }),
  column({
    name: 'pole_length_m',
    kind: 'number',
    unit: 'm',
    range: [0, 100],
    put: (row, length) => (row.poleLengthM = length),
    describe: 'tip to antenna reference point',
  }),
];
