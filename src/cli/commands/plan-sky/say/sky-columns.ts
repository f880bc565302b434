import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import { SKY_SYSTEMS } from '../../../../records/sky/orbit-elements.js';
import type { Dilution, SkyEpoch } from '../../../../records/sky/site-sky.js';

/** A row of the day: a site and an instant. */
export interface SkyLine {
  readonly pointId: string;
  readonly baseId: string | null;
  readonly epoch: SkyEpoch;
}

type SkyColumn = Column<never, SkyLine>;

const DILUTION_DECIMALS = 2;

const count = (name: string, get: (epoch: SkyEpoch) => number | null, describe: string): SkyColumn =>
  column({ name, kind: 'whole', get: ({ epoch }: SkyLine) => get(epoch), describe });
const dilution = (name: keyof Dilution, describe: string): SkyColumn =>
  column({
    name,
    kind: 'number',
    decimals: DILUTION_DECIMALS,
    get: ({ epoch }: SkyLine) => epoch.dilution?.[name] ?? null,
    describe,
  });

/** Columns of the day, in order. */
export const SKY_COLUMNS: readonly SkyColumn[] = [
  column({ name: 'point_id', kind: 'id', get: ({ pointId }) => pointId, describe: 'the site' }),
  column({ name: 'base_id', kind: 'id', get: ({ baseId }) => baseId, describe: 'the other end; empty: none' }),
  column({ name: 'epoch_utc', kind: 'time', get: ({ epoch }) => epoch.utcMs, describe: 'the instant' }),
  count('satellites', ({ satellites }) => satellites, 'above the masks of both ends'),
  ...SKY_SYSTEMS.map((system, index) =>
    count(system.toLowerCase(), ({ bySystem }) => bySystem[index] ?? null, 'of these, by constellation'),
  ),
  count('satellites_at_point', ({ satellitesAtSite }) => satellitesAtSite, 'above the masks of the site alone'),
  count('satellites_at_base', ({ satellitesAtBase }) => satellitesAtBase, 'above the masks of the base alone'),
  dilution('gdop', 'dilution of precision of everything; empty: the satellites do not place a point'),
  dilution('pdop', 'of the position'),
  dilution('hdop', 'of the position in plan'),
  dilution('vdop', 'of the height'),
  dilution('tdop', 'of the clocks of all constellations together'),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ epoch }) => (epoch.reasons.length === 0 ? 'within' : 'no'),
    describe: '`within` the limits, or `no`',
  }),
  column({ name: 'reasons', kind: 'codes', get: ({ epoch }) => epoch.reasons, describe: 'limits that are missed' }),
];
