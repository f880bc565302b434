import type { IsoSet } from '../../../../core/quality/standards/iso-17123-8.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import type { IsoResult } from '../../../../tasks/check/judge/check-tolerances-iso.js';

/** A set of the screen, and the limits that it is held against. */
export interface ScreenedSet {
  readonly set: IsoSet;
  readonly screen: IsoResult['screen'];
}

/** Columns of the sets, in order. */
export const ISO_COLUMNS: readonly Column<never, ScreenedSet>[] = [
  column({ name: 'series', kind: 'whole', get: ({ set }) => set.series, describe: 'the series' }),
  column({ name: 'set', kind: 'whole', get: ({ set }) => set.set, describe: 'the set in it' }),
  column({
    name: 'distance_m',
    kind: 'number',
    unit: 'm',
    get: ({ set }) => set.distanceM,
    describe: 'measured between the two points',
  }),
  column({
    name: 'height_difference_m',
    kind: 'number',
    unit: 'm',
    get: ({ set }) => set.heightDifferenceM,
    describe: 'measured between the two points',
  }),
  column({
    name: 'distance_error_m',
    kind: 'number',
    unit: 'm',
    get: ({ set }) => set.distanceErrorM,
    describe: 'measured minus nominal',
  }),
  column({
    name: 'height_error_m',
    kind: 'number',
    unit: 'm',
    get: ({ set }) => set.heightErrorM,
    describe: 'measured minus nominal',
  }),
  column({
    name: 'distance_limit_m',
    kind: 'number',
    unit: 'm',
    get: ({ screen }) => screen.distanceLimitM,
    describe: 'limits of the screen',
  }),
  column({
    name: 'height_limit_m',
    kind: 'number',
    unit: 'm',
    get: ({ screen }) => screen.heightLimitM,
    describe: 'limits of the screen',
  }),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ set }) => (set.passes ? 'within' : 'no'),
    describe: '`within` or `no`',
  }),
];
