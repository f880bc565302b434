import { largestOf, smallestOf } from '../../../../core/numeric/extremes.js';
import { column } from '../../../../io/tables/columns/column.js';
import type { Column } from '../../../../io/tables/columns/column.js';
import type { SiteSky, SkyWindow } from '../../../../records/sky/site-sky.js';

const HOUR_MS = 3_600_000;

/** The longest window that meets the limits; null: none does. */
export function longestWindow({ windows }: SiteSky): SkyWindow | null {
  const good = windows.filter(({ isGood }) => isGood);
  return good.toSorted((a, b) => b.toMs - b.fromMs - (a.toMs - a.fromMs))[0] ?? null;
}

/** How long the windows that meet the limits are together, milliseconds. */
export function goodTimeMs({ windows }: SiteSky): number {
  return windows.reduce((sum, { isGood, fromMs, toMs }) => sum + (isGood ? toMs - fromMs : 0), 0);
}

/** Columns of a site as a whole, for maps. */
export const SITE_COLUMNS: readonly Column<never, SiteSky>[] = [
  column({ name: 'point_id', kind: 'id', get: ({ site }) => site.id, describe: 'the site' }),
  column({
    name: 'verdict',
    kind: 'word',
    get: ({ verdict }) => verdict,
    describe: '`within`: all of the time meets the limits; `review`: some of it; `no`: none',
  }),
  column({
    name: 'hours_within',
    kind: 'number',
    decimals: 2,
    get: (sky) => goodTimeMs(sky) / HOUR_MS,
    describe: 'hours that meet the limits',
  }),
  column({
    name: 'longest_from_utc',
    kind: 'time',
    get: (sky) => longestWindow(sky)?.fromMs ?? null,
    describe: 'the longest window that does',
  }),
  column({
    name: 'longest_to_utc',
    kind: 'time',
    get: (sky) => longestWindow(sky)?.toMs ?? null,
    describe: 'the longest window that does',
  }),
  column({
    name: 'fewest_satellites',
    kind: 'whole',
    get: ({ epochs }) => smallestOf(epochs.map(({ satellites }) => satellites)),
    describe: 'that both ends see at some instant',
  }),
  column({
    name: 'largest_pdop',
    kind: 'number',
    decimals: 2,
    get: ({ epochs }) => {
      const all = epochs.map(({ dilution }) => dilution?.pdop ?? null);
      return all.includes(null) ? null : largestOf(all.flatMap((pdop) => pdop ?? []));
    },
    describe: 'at some instant; empty: at one the satellites do not place a point',
  }),
];
