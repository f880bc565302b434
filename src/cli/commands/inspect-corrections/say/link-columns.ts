import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import { AVAILABILITY_AGES_S } from '../../../../records/corrections/link-report.js';
import type {
  Availability,
  AvailabilityCell,
  AvailabilityHour,
  LinkOutage,
} from '../../../../records/corrections/link-report.js';

/** Columns of outages, in order. */
export const OUTAGE_COLUMNS: readonly Column<never, LinkOutage>[] = [
  column({ name: 'from_utc', kind: 'time', get: ({ fromMs }) => fromMs, describe: 'first epoch of it' }),
  column({
    name: 'to_utc',
    kind: 'time',
    get: ({ toMs }) => toMs,
    describe: 'first good epoch behind it, or its last where none follows',
  }),
  column({
    name: 'duration_s',
    kind: 'number',
    unit: 's',
    get: ({ fromMs, toMs }) => (toMs - fromMs) / 1000,
    describe: 'between the two',
  }),
  column({
    name: 'silent_from_utc',
    kind: 'time',
    get: ({ silentFromMs }) => (silentFromMs === null ? null : Math.round(silentFromMs)),
    describe: 'when the corrections in use at its beginning were made; empty: no age is stated',
  }),
  column({
    name: 'side',
    kind: 'word',
    get: ({ side }) => side,
    describe:
      '`base`: the stream was silent; `rover`: it went on; `none`: fresh corrections came all along, and the solution was not fixed; `unknown`: no stream says',
  }),
  column({
    name: 'largest_age_s',
    kind: 'number',
    unit: 's',
    get: ({ largestAgeS }) => largestAgeS,
    describe: 'of the corrections in it',
  }),
  column({ name: 'epochs', kind: 'whole', get: ({ epochs }) => epochs, describe: 'epochs in it' }),
  column({
    name: 'point_ids',
    kind: 'codes',
    get: ({ points }) => points.listed,
    describe: 'points touched, fifty at most',
  }),
  column({
    name: 'latitude_deg',
    kind: 'latitude',
    unit: 'deg',
    get: ({ latitudeDeg }) => latitudeDeg,
    describe: 'where it began',
  }),
  column({
    name: 'longitude_deg',
    kind: 'longitude',
    unit: 'deg',
    get: ({ longitudeDeg }) => longitudeDeg,
    describe: 'where it began',
  }),
  column({ name: 'source', kind: 'text', get: ({ source }) => source, describe: 'file of the fixes' }),
];

/** A row of availability: an hour, or a cell of the ground. */
export type AvailabilityRow = Availability & (Partial<AvailabilityHour> & Partial<AvailabilityCell>);

type AvailabilityColumn = Column<never, AvailabilityRow>;

const degrees = (
  name: string,
  kind: 'latitude' | 'longitude',
  get: (row: AvailabilityRow) => number | undefined,
  describe: string,
): AvailabilityColumn => column({ name, kind, unit: 'deg', get: (row) => get(row) ?? null, describe });

/** Columns of availability, in order. */
export const AVAILABILITY_COLUMNS: readonly AvailabilityColumn[] = [
  column({
    name: 'hour_utc',
    kind: 'time',
    get: ({ fromMs }) => fromMs ?? null,
    describe: 'an hour by its beginning; empty of a cell',
  }),
  degrees('south_deg', 'latitude', (row) => row.southDeg, 'a cell of 100 m by its sides; empty of an hour'),
  degrees('west_deg', 'longitude', (row) => row.westDeg, 'the same'),
  degrees('north_deg', 'latitude', (row) => row.northDeg, 'the same'),
  degrees('east_deg', 'longitude', (row) => row.eastDeg, 'the same'),
  column({
    name: 'epochs',
    kind: 'whole',
    get: ({ epochs }) => epochs,
    describe: 'epochs that say how old their corrections were, or had none',
  }),
  ...AVAILABILITY_AGES_S.flatMap((ageS, index): readonly AvailabilityColumn[] =>
    (['share', 'low', 'high'] as const).map((figure) =>
      column({
        name: figure === 'share' ? `share_at_${String(ageS)}s` : `share_at_${String(ageS)}s_${figure}`,
        kind: 'number',
        decimals: 4,
        get: ({ shares }) => shares[index]?.[figure] ?? null,
        describe:
          figure === 'share'
            ? `share of epochs with corrections of at most ${String(ageS)} s, 0 to 1`
            : `${figure === 'low' ? 'lower' : 'upper'} end of its 95 % interval by Wilson`,
      }),
    ),
  ),
];
