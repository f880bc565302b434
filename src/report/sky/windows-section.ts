import { REPEAT_MS, repeatedAt } from '../../core/sky/geometry-repeat.js';
import type { SkyReport } from '../../records/reports/sky-report.js';
import type { SiteSky, SkyWindow } from '../../records/sky/site-sky.js';
import { markup, named, together } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, counted, dateAndTime, fixed, utcWords } from '../page/words/numbers.js';
import { table } from '../page/table.js';
import { REASON_WORDS } from './reason-words.js';

const MOST_ROWS = 400;
const MINUTE_MS = 60_000;
/** Days behind the plan whose repeats are printed. */
const REPEAT_DAYS = [1, 2, 7] as const;

/** The windows of every site, and when the same sky comes back. */
export function windowsSection({ skies, repeatS }: SkyReport): Markup {
  const all = skies.flatMap((sky) => sky.windows.map((window) => ({ sky, window })));
  const shown = all.slice(0, MOST_ROWS);
  const few = shown.length < all.length ? ` ${String(shown.length)} of ${String(all.length)} are shown.` : '';
  return together([
    table({
      label: 'Windows',
      caption: markup`<b>Windows.</b> Times are UTC; a window ends where the next begins.${few}`,
      columns: [
        { head: 'Site', kind: 'words' },
        { head: 'From', unit: 'UTC', kind: 'text' },
        { head: 'To', unit: 'UTC', kind: 'text' },
        { head: 'Length', unit: 'min', kind: 'number' },
        { head: 'Limits', kind: 'text' },
        { head: 'Fewest', unit: 'satellites', kind: 'number' },
        { head: 'Largest', unit: 'PDOP', kind: 'number' },
        { head: 'Misses', kind: 'prose' },
      ],
      rows: shown.map(({ sky, window }) => windowRow(sky, window)),
    }),
    ...(repeatS === null ? [] : [repeats(skies, repeatS)]),
  ]);
}

function windowRow({ site }: SiteSky, window: SkyWindow): readonly (string | Markup)[] {
  return [
    named(site.id),
    dateAndTime(window.fromMs, 5),
    dateAndTime(window.toMs, 5),
    fixed((window.toMs - window.fromMs) / MINUTE_MS, 0),
    window.isGood ? 'met' : 'missed',
    String(window.fewestSatellites),
    window.largestPdop === null ? UNKNOWN : fixed(window.largestPdop, 1),
    window.reasons.map((reason) => REASON_WORDS[reason]).join(', '),
  ];
}

/** When a second occupation would meet the sky of the first. */
function repeats(skies: readonly SiteSky[], repeatS: number): Markup {
  const first = skies[0]?.epochs[0];
  if (first === undefined) return { html: '' };
  const times = REPEAT_DAYS.map((days) => `${utcWords(repeatedAt(first.utcMs, days), 8)} (${counted(days, 'day')} on)`);
  return markup`<p>The satellites of GPS stand as they stood ${fixed(-REPEAT_MS / 1000, 0)} s earlier each day (${fixed(-repeatS, 0)} s by these elements): the sky of ${utcWords(first.utcMs, 8)} is that of ${times.join('; ')}. Errors that come with the geometry come back with it, so a second occupation tells more some hours away from such a time. Other constellations repeat after one (QZSS, inclined BeiDou), seven (BeiDou), eight (GLONASS) and ten (Galileo) sidereal days.</p>`;
}
