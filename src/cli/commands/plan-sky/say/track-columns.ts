import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import type { SkySight } from '../../../../records/sky/site-sky.js';

/** A satellite above the horizon of a site at an instant. */
export interface TrackLine {
  readonly pointId: string;
  readonly sight: SkySight;
}

/** Broadcast elements give directions far below a hundredth of a degree; no mask is measured to one. */
const DIRECTION_DECIMALS = 2;

/** Columns of tracks, in order. */
export const TRACK_COLUMNS: readonly Column<never, TrackLine>[] = [
  column({ name: 'point_id', kind: 'id', get: ({ pointId }) => pointId, describe: 'the site' }),
  column({
    name: 'satellite',
    kind: 'text',
    get: ({ sight }) => sight.satellite,
    describe: 'its name in RINEX, such as `G07`',
  }),
  column({ name: 'constellation', kind: 'text', get: ({ sight }) => sight.system, describe: 'of it' }),
  column({ name: 'epoch_utc', kind: 'time', get: ({ sight }) => sight.utcMs, describe: 'the instant' }),
  column({
    name: 'azimuth_deg',
    kind: 'direction',
    unit: 'deg',
    decimals: DIRECTION_DECIMALS,
    get: ({ sight }) => sight.azimuthDeg,
    describe: 'clockwise from true north',
  }),
  column({
    name: 'elevation_deg',
    kind: 'angle',
    unit: 'deg',
    decimals: DIRECTION_DECIMALS,
    get: ({ sight }) => sight.elevationDeg,
    describe: 'above the plane across the normal of the ellipsoid, without refraction; 0 and higher',
  }),
  column({
    name: 'above_point_masks',
    kind: 'yes-no',
    get: ({ sight }) => sight.isAboveSiteMask,
    describe: 'whether the site sees it',
  }),
  column({
    name: 'above_base_masks',
    kind: 'yes-no',
    get: ({ sight }) => sight.isAboveBaseMask,
    describe: 'whether the base sees it; empty: no base',
  }),
];
