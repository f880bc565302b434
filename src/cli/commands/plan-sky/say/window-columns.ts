import { repeatedAt } from '../../../../core/sky/geometry-repeat.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import type { SkyWindow } from '../../../../records/sky/site-sky.js';

/** A window of a site. */
export interface WindowLine {
  readonly pointId: string;
  readonly window: SkyWindow;
}

const MINUTE_MS = 60_000;

/** Columns of windows, in order. plan-baseline reads the first four. */
export const WINDOW_COLUMNS: readonly Column<never, WindowLine>[] = [
  column({ name: 'point_id', kind: 'id', get: ({ pointId }) => pointId, describe: 'the site' }),
  column({ name: 'from_utc', kind: 'time', get: ({ window }) => window.fromMs, describe: 'its first instant' }),
  column({
    name: 'to_utc',
    kind: 'time',
    get: ({ window }) => window.toMs,
    describe: 'first instant of the next window, or the end of the time planned',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ window }) => (window.isGood ? 'within' : 'no'),
    describe: '`within`: every instant of it meets the limits; `no`: none does',
  }),
  column({
    name: 'minutes',
    kind: 'number',
    decimals: 1,
    get: ({ window }) => (window.toMs - window.fromMs) / MINUTE_MS,
    describe: 'its length, minutes',
  }),
  column({
    name: 'fewest_satellites',
    kind: 'whole',
    get: ({ window }) => window.fewestSatellites,
    describe: 'that both ends see at some instant of it',
  }),
  column({
    name: 'largest_pdop',
    kind: 'number',
    decimals: 2,
    get: ({ window }) => window.largestPdop,
    describe: 'at some instant of it; empty: at one the satellites do not place a point',
  }),
  column({
    name: 'reasons',
    kind: 'codes',
    get: ({ window }) => window.reasons,
    describe: 'limits that are missed in it',
  }),
  column({
    name: 'gps_repeat_from_utc',
    kind: 'time',
    get: ({ window }) => repeatedAt(window.fromMs, 1),
    describe:
      'when the sky of GPS is again as at its first instant: 236 s earlier on the next day, and as much on each day after it',
  }),
  column({
    name: 'gps_repeat_to_utc',
    kind: 'time',
    get: ({ window }) => repeatedAt(window.toMs, 1),
    describe: 'the same of its end',
  }),
];
