import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import type { OccupationSky } from '../../../../records/reports/parts/occupation-sky.js';

type SkyColumn = Column<never, OccupationSky>;

const count = (name: string, get: (sky: OccupationSky) => number | null, describe: string): SkyColumn =>
  column({ name, kind: 'whole', get, describe });
const pdop = (name: string, get: (sky: OccupationSky) => number | null, describe: string): SkyColumn =>
  column({ name, kind: 'number', decimals: 2, get, describe });

/** Columns of the sky over doubtful occupations, in order. */
export const OCCUPATION_SKY_COLUMNS: readonly SkyColumn[] = [
  column({ name: 'point_id', kind: 'id', get: ({ pointId }) => pointId, describe: 'the point' }),
  column({ name: 'occupation', kind: 'text', get: ({ occupation }) => occupation, describe: 'its occupation' }),
  column({ name: 'base_id', kind: 'id', get: ({ baseId }) => baseId, describe: 'its base' }),
  column({ name: 'epoch_utc', kind: 'time', get: ({ atMs }) => atMs, describe: 'the middle of its time' }),
  column({ name: 'verdict', kind: 'word', get: ({ verdict }) => verdict, describe: '`review` or `rejected`' }),
  column({ name: 'reasons', kind: 'codes', get: ({ reasons }) => reasons, describe: 'why' }),
  column({
    name: 'satellites_used',
    kind: 'number',
    decimals: 1,
    get: ({ satellitesUsed }) => satellitesUsed,
    describe: 'median of what the receiver says it used, refused epochs too',
  }),
  count('satellites', ({ satellites }) => satellites, 'that both ends could see above their masks'),
  count('satellites_at_point', ({ satellitesAtPoint }) => satellitesAtPoint, 'that the point could see'),
  count('satellites_at_base', ({ satellitesAtBase }) => satellitesAtBase, 'that the base could see; empty: no base'),
  pdop('pdop_at_point', ({ pdopAtPoint }) => pdopAtPoint, 'of what the point could see; empty: it places no point'),
  pdop('pdop_at_base', ({ pdopAtBase }) => pdopAtBase, 'of what the base could see'),
];
