import type { Visit } from '../../../../core/planning/time/timetable.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';

/** A line of the timetable: an occupation, and the visit it is made on; null: it does not fit into the day. */
export interface TimetableLine {
  readonly baseId: string;
  readonly pointId: string;
  readonly occupation: number;
  readonly visit: Visit | null;
}

type TimetableColumn = Column<never, TimetableLine>;

const KILOMETRES_DECIMALS = 1;
const MINUTES_DECIMALS = 1;

const minutes = (name: string, seconds: (visit: Visit) => number, describe: string): TimetableColumn =>
  column({
    name,
    kind: 'number',
    decimals: MINUTES_DECIMALS,
    get: ({ visit }: TimetableLine) => (visit === null ? null : seconds(visit) / 60),
    describe,
  });
const time = (name: string, seconds: (visit: Visit) => number, describe: string): TimetableColumn =>
  column({
    name,
    kind: 'time',
    get: ({ visit }: TimetableLine) => (visit === null ? null : Math.round(seconds(visit)) * 1000),
    describe,
  });

/** The columns of a timetable, in order. */
export const TIMETABLE_COLUMNS: readonly TimetableColumn[] = [
  column({
    name: 'sequence',
    kind: 'whole',
    get: ({ visit }) => visit?.sequence ?? null,
    describe: 'place in the day of the base',
  }),
  column({ name: 'base_id', kind: 'id', get: ({ baseId }) => baseId, describe: 'the base that runs that day' }),
  column({ name: 'point_id', kind: 'id', get: ({ pointId }) => pointId, describe: 'the point visited' }),
  column({
    name: 'role',
    kind: 'word',
    get: ({ visit }) => visit?.role ?? 'left-out',
    describe:
      '`control-first`, `control-middle`, `control-last`, `work`, `repeat`, or `left-out` for what does not fit into `--hours`',
  }),
  column({
    name: 'occupation',
    kind: 'whole',
    get: ({ occupation }) => occupation,
    describe: '1 for the first of the point',
  }),
  column({
    name: 'drive_km',
    kind: 'number',
    decimals: KILOMETRES_DECIMALS,
    get: ({ visit }) => (visit === null ? null : visit.driveM / 1000),
    describe: 'from the place before, along the road as reckoned, kilometres',
  }),
  minutes('drive_min', ({ driveS }) => driveS, 'the drive, minutes'),
  time('arrive_utc', ({ arriveS }) => arriveS, 'arrival'),
  minutes(
    'wait_min',
    ({ waitS }) => waitS,
    'waiting for the separation from the occupation before, or for a window of the sky, minutes',
  ),
  time('start_utc', ({ startS }) => startS, 'start and end of the occupation'),
  time('end_utc', ({ endS }) => endS, 'start and end of the occupation'),
];
