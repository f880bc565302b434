import { utcOfStream } from '../../../../core/corrections/stream-time-text.js';
import type { GridSystem } from '../../../../core/grid/systems/grid-system.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import type { SentPosition, StreamCalendar } from '../../../../records/corrections/correction-audit.js';

/** A coordinate that a station sent, with what it is shown in. */
export interface PositionRow {
  readonly stationId: number;
  readonly position: SentPosition;
  readonly calendar: StreamCalendar;
  readonly grid: GridSystem | null;
}

type PositionColumn = Column<never, PositionRow>;

const AXES = ['x', 'y', 'z'] as const;
const MEMBERS = { x: 'xM', y: 'yM', z: 'zM' } as const;

const SENT: readonly PositionColumn[] = [
  column({ name: 'station_id', kind: 'whole', get: ({ stationId }) => stationId, describe: 'number of the station' }),
  ...AXES.map((axis): PositionColumn =>
    column({
      name: `${axis}_m`,
      kind: 'number',
      unit: 'm',
      get: ({ position }) => position.arp[MEMBERS[axis]],
      describe: 'antenna reference point, geocentric, as sent',
    }),
  ),
  column({
    name: 'antenna_height_m',
    kind: 'number',
    unit: 'm',
    get: ({ position }) => position.antennaHeightM,
    describe: 'antenna reference point above the mark, as sent; empty: not sent',
  }),
  ...AXES.map((axis): PositionColumn =>
    column({
      name: `mark_${axis}_m`,
      kind: 'number',
      unit: 'm',
      get: ({ position }) => position.mark?.[MEMBERS[axis]] ?? null,
      describe: 'the mark: the height taken off once',
    }),
  ),
];

const GEODETIC: readonly PositionColumn[] = [
  column({
    name: 'latitude_deg',
    kind: 'latitude',
    unit: 'deg',
    get: ({ position }) => position.geodetic.latitudeDeg,
    describe: 'of the antenna reference point',
  }),
  column({
    name: 'longitude_deg',
    kind: 'longitude',
    unit: 'deg',
    get: ({ position }) => position.geodetic.longitudeDeg,
    describe: 'of the antenna reference point',
  }),
  column({
    name: 'ellipsoidal_height_m',
    kind: 'number',
    unit: 'm',
    get: ({ position }) => position.geodetic.ellipsoidalHeightM,
    describe: 'of the antenna reference point',
  }),
  column({
    name: 'mark_ellipsoidal_height_m',
    kind: 'number',
    unit: 'm',
    get: ({ position }) => position.markGeodetic?.ellipsoidalHeightM ?? null,
    describe: 'of the mark',
  }),
];

const SAID: readonly PositionColumn[] = [
  column({
    name: 'first_utc',
    kind: 'time',
    get: ({ position, calendar }) => (position.firstMs === null ? null : utcOfStream(calendar, position.firstMs)),
    describe: 'first time it was sent; empty where the date is not known',
  }),
  column({
    name: 'last_utc',
    kind: 'time',
    get: ({ position, calendar }) => (position.lastMs === null ? null : utcOfStream(calendar, position.lastMs)),
    describe: 'last time it was sent',
  }),
  column({ name: 'count', kind: 'whole', get: ({ position }) => position.count, describe: 'how often it was sent' }),
  column({
    name: 'computed',
    kind: 'yes-no',
    get: ({ position }) => position.isComputed,
    describe: 'a network computed it',
  }),
];

/** Columns of coordinates that were sent, in order: the antenna reference point, then the mark. */
export function positionColumns(grid: GridSystem | null): readonly PositionColumn[] {
  const pair = grid === null ? [] : grid.axes.map(({ columnName }, index) => gridColumn(columnName, index));
  return [...SENT, ...GEODETIC, ...pair, ...SAID];
}

function gridColumn(name: string, index: number): PositionColumn {
  return column({
    name,
    kind: 'number',
    unit: 'm',
    get: ({ position, grid }) => gridPairOf(grid, position)?.[index] ?? null,
    describe: 'of the antenna reference point',
  });
}

/** The grid pair of a coordinate, or null where there is no grid or it lies outside. */
export function gridPairOf(grid: GridSystem | null, { geodetic }: SentPosition): readonly [number, number] | null {
  if (grid === null) return null;
  const pair = { first: 0, second: 0 };
  return grid.forward(geodetic.latitudeDeg, geodetic.longitudeDeg, pair) === 'ok' ? [pair.first, pair.second] : null;
}
