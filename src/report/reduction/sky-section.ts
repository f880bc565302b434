import type { OccupationSky } from '../../records/reports/parts/occupation-sky.js';
import { markup, named } from '../page/markup.js';
import type { Markup } from '../page/markup.js';
import { UNKNOWN, dateAndTime, fixed } from '../page/words/numbers.js';
import { table } from '../page/table.js';

const MOST_ROWS = 200;

/** What the sky was over the occupations that ask for a look. */
export function skySection(skies: readonly OccupationSky[]): Markup {
  if (skies.length === 0)
    return markup`<p>No occupation is for review or rejected, or the navigation files tell nothing of their time.</p>`;
  const shown = skies.slice(0, MOST_ROWS);
  const few = shown.length < skies.length ? ` ${String(shown.length)} of ${String(skies.length)} are shown.` : '';
  const whole = (value: number | null): string => (value === null ? UNKNOWN : String(value));
  return table({
    label: 'The sky over doubtful occupations',
    caption: markup`<b>The sky over doubtful occupations.</b> In the middle of each by the navigation files, above 10° and the skylines measured; PDOP of what each end could see by itself. Fewer satellites used than there were point to what hid or disturbed them.${few}`,
    columns: [
      { head: 'Point', kind: 'words' },
      { head: 'Occupation', kind: 'text' },
      { head: 'At', unit: 'UTC', kind: 'text' },
      { head: 'Used', unit: 'median', kind: 'number' },
      { head: 'Both ends', unit: 'satellites', kind: 'number' },
      { head: 'Point', unit: 'satellites', kind: 'number' },
      { head: 'Base', unit: 'satellites', kind: 'number' },
      { head: 'Point', unit: 'PDOP', kind: 'number' },
      { head: 'Base', unit: 'PDOP', kind: 'number' },
      { head: 'Reasons', kind: 'codes' },
    ],
    rows: shown.map((sky) => [
      named(sky.pointId),
      sky.occupation,
      dateAndTime(sky.atMs, 8),
      fixed(sky.satellitesUsed, 1),
      String(sky.satellites),
      String(sky.satellitesAtPoint),
      whole(sky.satellitesAtBase),
      fixed(sky.pdopAtPoint, 1),
      fixed(sky.pdopAtBase, 1),
      sky.reasons.join(', '),
    ]),
  });
}
